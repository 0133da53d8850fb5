using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using PdfSharp.Drawing;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Pdf;

/// <summary>Paints the SVG of a composed page, every property of which is an attribute.</summary>
internal sealed partial class SvgPainter(XGraphics canvas, SheetFonts fonts, PdfGlyphs glyphs)
{
    private Dictionary<string, XElement> definitions = [];

    /// <summary>Paints a page; the canvas is in its units already.</summary>
    public void Paint(XElement page)
    {
        definitions = page.Elements(Print.Ns + "defs").Elements().Where(e => e.Attribute("id") is not null).ToDictionary(e => "#" + e.Attribute("id")!.Value);
        foreach (var child in page.Elements()) Draw(child);
    }

    private void Draw(XElement e)
    {
        switch (e.Name.LocalName)
        {
            case "g":
                Transformed(e, () =>
                {
                    foreach (var child in e.Elements()) Draw(child);
                });
                break;
            case "use":
                Use(e);
                break;
            case "path":
                Transformed(e, () => Shape(e, glyphs.Path(Text(e, "d"))));
                break;
            case "rect":
                Rectangle(e);
                break;
            case "ellipse":
                Ellipse(e);
                break;
            case "polygon" or "polyline":
                Shape(e, Polygon(e));
                break;
            case "text":
                Line(e);
                break;
        }
    }

    private void Use(XElement use)
    {
        if (!definitions.TryGetValue(Text(use, "href"), out var definition)) return;
        Transformed(use, () => Draw(definition));
    }

    private void Transformed(XElement e, Action draw)
    {
        if (e.Attribute("transform") is not { } transform)
        {
            draw();
            return;
        }

        var state = canvas.Save();
        foreach (Match step in TransformStep().Matches(transform.Value)) Apply(step);
        draw();
        canvas.Restore(state);
    }

    private void Apply(Match step)
    {
        var v = step.Groups[2].Value.Split([' ', ','], StringSplitOptions.RemoveEmptyEntries).Select(n => double.Parse(n, CultureInfo.InvariantCulture)).ToArray();
        switch (step.Groups[1].Value)
        {
            case "translate":
                canvas.TranslateTransform(v[0], v.Length > 1 ? v[1] : 0);
                break;
            case "scale":
                canvas.ScaleTransform(v[0], v.Length > 1 ? v[1] : v[0]);
                break;
            case "rotate" when v.Length == 3:
                canvas.RotateAtTransform(v[0], new XPoint(v[1], v[2]));
                break;
            case "rotate":
                canvas.RotateTransform(v[0]);
                break;
            case "matrix":
                canvas.MultiplyTransform(new XMatrix(v[0], v[1], v[2], v[3], v[4], v[5]));
                break;
        }
    }

    private void Rectangle(XElement e)
    {
        if (Text(e, "class") == "paper") return;
        var path = new XGraphicsPath();
        path.AddRectangle(Value(e, "x"), Value(e, "y"), Value(e, "width"), Value(e, "height"));
        Transformed(e, () => Shape(e, path));
    }

    private void Ellipse(XElement e)
    {
        var (rx, ry) = (Value(e, "rx"), Value(e, "ry"));
        var path = new XGraphicsPath();
        path.AddEllipse(Value(e, "cx") - rx, Value(e, "cy") - ry, 2 * rx, 2 * ry);
        Transformed(e, () => Shape(e, path));
    }

    private static XGraphicsPath Polygon(XElement e)
    {
        var n = Text(e, "points").Split([' ', ','], StringSplitOptions.RemoveEmptyEntries).Select(v => double.Parse(v, CultureInfo.InvariantCulture)).ToArray();
        var points = Enumerable.Range(0, n.Length / 2).Select(i => new XPoint(n[2 * i], n[(2 * i) + 1])).ToArray();
        var path = new XGraphicsPath();
        path.AddLines(points);
        if (e.Name.LocalName == "polygon") path.CloseFigure();
        return path;
    }

    private void Shape(XElement e, XGraphicsPath path)
    {
        var width = e.Attribute("stroke-width") is null ? 1 : Value(e, "stroke-width");
        var pen = Text(e, "stroke") is "none" or "" || width <= 0 ? null : new XPen(XColors.Black, width)
        {
            LineCap = Text(e, "stroke-linecap") switch { "round" => XLineCap.Round, "square" => XLineCap.Square, _ => XLineCap.Flat },
            LineJoin = Text(e, "stroke-linejoin") == "round" ? XLineJoin.Round : XLineJoin.Miter,
        };
        if (pen is not null && e.Attribute("stroke-dasharray") is { } dashes) Dash(pen, dashes.Value, width);
        var brush = Text(e, "fill") == "none" ? null : XBrushes.Black;
        if (pen is not null && brush is not null) canvas.DrawPath(pen, brush, path);
        else if (brush is not null) canvas.DrawPath(brush, path);
        else if (pen is not null) canvas.DrawPath(pen, path);
    }

    private static void Dash(XPen pen, string dashes, double width)
    {
        // PDFsharp counts dashes in pen widths.
        pen.DashPattern = [.. dashes.Split([' ', ','], StringSplitOptions.RemoveEmptyEntries).Select(d => double.Parse(d, CultureInfo.InvariantCulture) / width)];
        pen.DashStyle = XDashStyle.Custom;
    }

    private void Line(XElement text)
    {
        var pieces = text.Nodes().Select(PieceOf).Where(p => p.Text.Length > 0).ToList();
        var width = pieces.Sum(p => fonts.Width(p.Face, p.Size, p.Text));
        var x = Value(text, "x") - (Text(text, "text-anchor") switch { "middle" => width / 2, "end" => width, _ => 0 });
        foreach (var (face, size, words) in pieces)
        {
            foreach (var run in fonts.Runs(face, words))
            {
                canvas.DrawString(run.Text, glyphs.Font(run.Typeface.Name, size), XBrushes.Black, x, Value(text, "y"), XStringFormats.BaseLineLeft);
                x += run.Typeface.WidthOf(run.Text) * size;
            }
        }
    }

    private static (Face Face, double Size, string Text) PieceOf(XNode node)
    {
        var e = node as XElement ?? node.Parent!;
        return (Print.FaceFrom(Text(e, "font-family"), Text(e, "font-weight"), Text(e, "font-style")), Value(e, "font-size"), node is XText t ? t.Value : e.Value);
    }

    private static string Text(XElement e, string name) => e.Attribute(name)?.Value ?? "";

    private static double Value(XElement e, string name) =>
        double.TryParse(Text(e, name).Replace("px", "", StringComparison.Ordinal), CultureInfo.InvariantCulture, out var value) ? value : 0;

    [GeneratedRegex(@"(\w+)\s*\(([^)]*)\)")]
    private static partial Regex TransformStep();
}
