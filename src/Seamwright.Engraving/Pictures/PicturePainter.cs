using System.Globalization;
using System.Xml.Linq;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Pictures;

/// <summary>Paints the SVG of this project, every property of which is an attribute, in dots.</summary>
/// <remarks>Knows what a system and its rows are made of: groups, uses, paths, polygons, polylines, rectangles, ellipses and text in
/// the sheet's own fonts. Dashes are painted whole, and the paper of a page is left clear.</remarks>
internal sealed class PicturePainter(SheetFonts fonts)
{
    // A circle from four cubic curves: the usual 4/3·(√2 − 1).
    private const double Kappa = 0.5522847498;
    private readonly Dictionary<string, IReadOnlyList<PathStep>> paths = new(StringComparer.Ordinal);
    private Dictionary<string, XElement> definitions = [];
    private Brush brush = null!;
    private Ink plain;

    /// <summary>Paints a drawing.</summary>
    /// <param name="drawing">A group or an SVG document's root; its <c>viewBox</c> does not count.</param>
    /// <param name="width">Dots.</param>
    /// <param name="height">Dots.</param>
    /// <param name="place">From the drawing's units to dots.</param>
    /// <param name="ink">For everything that names no colour.</param>
    /// <param name="shapes">What its uses refer to; null where it has its own or none.</param>
    public Picture Paint(XElement drawing, int width, int height, Transform place, Ink ink, XElement? shapes = null)
    {
        var picture = new Picture(width, height);
        (brush, plain) = (new Brush(picture), ink);
        definitions = (shapes is null ? drawing.Elements(Print.Ns + "defs") : [shapes]).Elements()
            .Where(e => e.Attribute("id") is not null).ToDictionary(e => "#" + e.Attribute("id")!.Value, StringComparer.Ordinal);
        Draw(drawing, place);
        return picture;
    }

    private void Draw(XElement e, Transform outer)
    {
        var here = e.Attribute("transform") is { } t ? outer.After(Transform.Read(t.Value)) : outer;
        switch (e.Name.LocalName)
        {
            case "g" or "svg":
                foreach (var child in e.Elements()) Draw(child, here);
                break;
            case "use":
                if (definitions.TryGetValue(Text(e, "href"), out var definition)) Draw(definition, here);
                break;
            case "path":
                Shape(e, Path(Text(e, "d")), here);
                break;
            case "rect" when Text(e, "class") == "paper":
                break;
            case "rect":
                Shape(e, Rectangle(Value(e, "x"), Value(e, "y"), Value(e, "width"), Value(e, "height")), here);
                break;
            case "ellipse":
                Shape(e, Ellipse(Value(e, "cx"), Value(e, "cy"), Value(e, "rx"), Value(e, "ry")), here);
                break;
            case "polygon" or "polyline":
                Shape(e, Path($"M{Text(e, "points")}{(e.Name.LocalName == "polygon" ? "Z" : "")}"), here);
                break;
            case "text":
                Line(e, here);
                break;
        }
    }

    private void Shape(XElement e, IReadOnlyList<PathStep> path, Transform place)
    {
        if (Text(e, "fill") != "none") brush.Fill(path, place, Colour(e, "fill"));
        var pen = e.Attribute("stroke-width") is null ? 1 : Value(e, "stroke-width");
        if (Text(e, "stroke") is not ("none" or "") && pen > 0) brush.Stroke(path, place, pen, Colour(e, "stroke"), Text(e, "stroke-linecap") == "round");
    }

    private void Line(XElement text, Transform place)
    {
        var pieces = TextPiece.Of(text);
        var (x, y) = (TextPiece.Left(text, TextPiece.Width(pieces, fonts)), Value(text, "y"));
        foreach (var (face, size, words) in pieces)
        {
            foreach (var run in fonts.Runs(face, words))
            {
                foreach (var rune in run.Text.EnumerateRunes())
                {
                    brush.Fill(run.Typeface.OutlineOf(rune.Value), place.After(new(size, 0, 0, size, x, y)), Colour(text, "fill"));
                    x += run.Typeface.WidthOf(rune.ToString()) * size;
                }
            }
        }
    }

    private IReadOnlyList<PathStep> Path(string d) => paths.TryGetValue(d, out var path) ? path : paths[d] = PathData.Read(d);

    private static List<PathStep> Rectangle(double x, double y, double width, double height) =>
        Closed(new(x, y), new(x + width, y), new(x + width, y + height), new(x, y + height));

    private static List<PathStep> Closed(params Spot[] corners)
    {
        var steps = new List<PathStep> { new(PathStepKind.Move, corners[0], corners[0], corners[0], corners[0]) };
        for (var i = 1; i < corners.Length; i++) steps.Add(new(PathStepKind.Line, corners[i - 1], corners[i - 1], corners[i], corners[i]));
        steps.Add(new(PathStepKind.Close, corners[^1], corners[^1], corners[0], corners[0]));
        return steps;
    }

    private static List<PathStep> Ellipse(double cx, double cy, double rx, double ry)
    {
        var steps = new List<PathStep> { new(PathStepKind.Move, default, default, default, new(cx + rx, cy)) };
        (double X, double Y)[] ways = [(1, 0), (0, 1), (-1, 0), (0, -1), (1, 0)];
        for (var i = 1; i < ways.Length; i++)
        {
            var (a, b) = (ways[i - 1], ways[i]);
            steps.Add(new(PathStepKind.Curve, At(a.X, a.Y), At(a.X + (Kappa * b.X), a.Y + (Kappa * b.Y)), At(b.X + (Kappa * a.X), b.Y + (Kappa * a.Y)), At(b.X, b.Y)));
        }

        return steps;

        Spot At(double x, double y) => new(cx + (rx * x), cy + (ry * y));
    }

    // Colours stand as #rrggbb on the shape or on a group around it.
    private Ink Colour(XElement e, string name)
    {
        if (Text(e, name) is ['#', ..] own) return Ink.Read(own);
        return e.AncestorsAndSelf().Select(a => Text(a, "color")).FirstOrDefault(c => c.StartsWith('#')) is { } around ? Ink.Read(around) : plain;
    }

    private static string Text(XElement e, string name) => e.Attribute(name)?.Value ?? "";

    private static double Value(XElement e, string name) =>
        double.TryParse(Text(e, name).Replace("px", "", StringComparison.Ordinal), CultureInfo.InvariantCulture, out var value) ? value : 0;
}
