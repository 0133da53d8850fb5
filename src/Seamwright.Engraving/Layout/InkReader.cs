using System.Globalization;
using System.Xml.Linq;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Layout;

/// <summary>Finds where the ink of a drawing lies, as many small boxes: a slur or hairpin is followed along its way.</summary>
internal sealed class InkReader(SheetFonts fonts)
{
    /// <summary>Longest piece, in hundredths of a millimetre, that a sloping line is cut into.</summary>
    private const double Piece = 60;

    private const int PiecesOfCurve = 10;

    // Of an em, measured on the digits and lower-case letters of the sheet's faces.
    private const double Ascent = 0.70;
    private const double Descent = 0.22;
    private readonly Dictionary<string, Box> glyphs = new(StringComparer.Ordinal);

    /// <summary>Learns the shapes that <c>use</c> refers to. A shape's reference is its id.</summary>
    public void Learn(XElement definitions)
    {
        foreach (var glyph in definitions.Elements().Where(e => e.Attribute("id") is not null))
        {
            var boxes = new List<Box>();
            Add(glyph, Transform.None, boxes);
            if (Box.Around(boxes) is { } box) glyphs["#" + glyph.Attribute("id")!.Value] = box;
        }
    }

    /// <summary>The ink of an element and all in it, in the coordinates of its parent.</summary>
    public List<Box> Of(XElement element)
    {
        var boxes = new List<Box>();
        Add(element, Transform.None, boxes);
        return boxes;
    }

    private void Add(XElement e, Transform outer, List<Box> boxes)
    {
        var transform = e.Attribute("transform") is { } t ? outer.After(Transform.Read(t.Value)) : outer;
        switch (e.Name.LocalName)
        {
            case "g":
                foreach (var child in e.Elements()) Add(child, transform, boxes);
                break;
            case "use":
                if (glyphs.TryGetValue(e.Attribute("href")?.Value ?? "", out var glyph)) boxes.Add(Mapped(glyph, transform));
                break;
            case "path":
                AddPath(PathData.Read(e.Attribute("d")!.Value), Pen(e), transform, boxes);
                break;
            case "polygon" or "polyline":
                AddPath(Corners(e), Pen(e), transform, boxes);
                break;
            case "rect":
                boxes.Add(Mapped(new Box(0, 0, Value(e, "width"), Value(e, "height")).Moved(Value(e, "x"), Value(e, "y")).Grown(Pen(e)), transform));
                break;
            case "ellipse":
                var (rx, ry) = (Value(e, "rx") + Pen(e), Value(e, "ry") + Pen(e));
                boxes.Add(Mapped(new Box(-rx, -ry, rx, ry).Moved(Value(e, "cx"), Value(e, "cy")), transform));
                break;
            case "text":
                if (TextBox(e) is { } text) boxes.Add(Mapped(text, transform));
                break;
        }
    }

    private Box? TextBox(XElement text)
    {
        var pieces = TextPiece.Of(text);
        if (pieces.Count == 0) return null;
        var (width, size) = (TextPiece.Width(pieces, fonts), pieces.Max(p => p.Size));
        var (left, y) = (TextPiece.Left(text, width), Value(text, "y"));
        return new(left, y - (Ascent * size), left + width, y + (Descent * size));
    }

    private static void AddPath(IReadOnlyList<PathStep> steps, double pen, Transform transform, List<Box> boxes)
    {
        foreach (var step in steps.Where(s => s.Kind != PathStepKind.Move))
        {
            var places = step.Kind == PathStepKind.Curve ? Curve(step, transform) : Line(transform.Of(step.From), transform.Of(step.To));
            boxes.AddRange(places.Zip(places.Skip(1), (a, b) => Between(a, b).Grown(pen)));
        }
    }

    private static List<Spot> Line(Spot from, Spot to)
    {
        var pieces = 1 + (int)(Math.Min(Math.Abs(to.X - from.X), Math.Abs(to.Y - from.Y)) / Piece);
        return [.. Enumerable.Range(0, pieces + 1).Select(i => Mix(from, to, (double)i / pieces))];
    }

    private static List<Spot> Curve(PathStep step, Transform transform) =>
        [.. Enumerable.Range(0, PiecesOfCurve + 1).Select(i => transform.Of(OnCurve(step, (double)i / PiecesOfCurve)))];

    /// <summary>De Casteljau's construction.</summary>
    private static Spot OnCurve(PathStep s, double t)
    {
        var (a, b, c) = (Mix(s.From, s.A, t), Mix(s.A, s.B, t), Mix(s.B, s.To, t));
        return Mix(Mix(a, b, t), Mix(b, c, t), t);
    }

    private static Spot Mix(Spot a, Spot b, double t) => new(a.X + (t * (b.X - a.X)), a.Y + (t * (b.Y - a.Y)));

    private static Box Between(Spot a, Spot b) => new(Math.Min(a.X, b.X), Math.Min(a.Y, b.Y), Math.Max(a.X, b.X), Math.Max(a.Y, b.Y));

    private static Box Mapped(Box box, Transform t)
    {
        var first = Between(t.Of(box.Left, box.Top), t.Of(box.Right, box.Bottom));
        var second = Between(t.Of(box.Left, box.Bottom), t.Of(box.Right, box.Top));
        return Box.Around([first, second])!.Value;
    }

    private static List<PathStep> Corners(XElement e)
    {
        var n = e.Attribute("points")!.Value.Split([' ', ','], StringSplitOptions.RemoveEmptyEntries).Select(v => double.Parse(v, CultureInfo.InvariantCulture)).ToArray();
        var corners = Enumerable.Range(0, n.Length / 2).Select(i => new Spot(n[2 * i], n[(2 * i) + 1])).ToList();
        if (e.Name.LocalName == "polygon") corners.Add(corners[0]);
        return [.. corners.Zip(corners.Skip(1), (a, b) => new PathStep(PathStepKind.Line, a, a, b, b))];
    }

    /// <summary>Half the width of the stroke.</summary>
    private static double Pen(XElement e) => e.Attribute("stroke")?.Value is null or "none" ? 0 : Value(e, "stroke-width") / 2;

    private static double Value(XElement e, string name) =>
        double.TryParse(e.Attribute(name)?.Value, CultureInfo.InvariantCulture, out var value) ? value : 0;
}
