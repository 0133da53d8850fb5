using System.Globalization;
using System.Xml.Linq;
using PdfSharp.Drawing;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Pdf;

/// <summary>Paints the SVG of a composed page, every property of which is an attribute.</summary>
internal sealed class SvgPainter(XGraphics canvas, SheetFonts fonts, PdfGlyphs glyphs)
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
                Transformed(e, () =>
                {
                    foreach (var path in glyphs.Paths(Text(e, "d"))) Shape(e, path);
                });
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
            case "image":
                Image(e);
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
        var t = Pages.Transform.Read(transform.Value);
        canvas.MultiplyTransform(new XMatrix(t.A, t.B, t.C, t.D, t.E, t.F));
        draw();
        canvas.Restore(state);
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
        var pen = Text(e, "stroke") is "none" or "" || width <= 0 ? null : new XPen(Colour(e, "stroke"), width)
        {
            LineCap = Text(e, "stroke-linecap") switch { "round" => XLineCap.Round, "square" => XLineCap.Square, _ => XLineCap.Flat },
            LineJoin = Text(e, "stroke-linejoin") == "round" ? XLineJoin.Round : XLineJoin.Miter,
        };
        if (pen is not null && e.Attribute("stroke-dasharray") is { } dashes) Dash(pen, dashes.Value, width);
        var brush = Text(e, "fill") == "none" ? null : new XSolidBrush(Colour(e, "fill"));
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

    // Its bytes stand in the page itself, so that a page is whole without other files.
    private void Image(XElement e)
    {
        using var bytes = new MemoryStream(Convert.FromBase64String(Text(e, "href").Split(',')[^1]));
        using var image = XImage.FromStream(bytes);
        canvas.DrawImage(image, Value(e, "x"), Value(e, "y"), Value(e, "width"), Value(e, "height"));
    }

    private void Line(XElement text)
    {
        var pieces = TextPiece.Of(text);
        var x = TextPiece.Left(text, TextPiece.Width(pieces, fonts));
        foreach (var (face, size, words) in pieces)
        {
            foreach (var run in fonts.Runs(face, words))
            {
                canvas.DrawString(run.Text, glyphs.Font(run.Typeface.Name, size), new XSolidBrush(Colour(text, "fill")), x, Value(text, "y"), XStringFormats.BaseLineLeft);
                x += run.Typeface.WidthOf(run.Text) * size;
            }
        }
    }

    // Colours stand as #rrggbb on the shape or on a group around it; the sheet's own ink is black.
    private static XColor Colour(XElement e, string name)
    {
        if (Text(e, name) is ['#', ..] own) return Rgb(own);
        return e.AncestorsAndSelf().Select(a => Text(a, "color")).FirstOrDefault(c => c.StartsWith('#')) is { } around ? Rgb(around) : XColors.Black;
    }

    private static XColor Rgb(string colour)
    {
        var rgb = int.Parse(colour.AsSpan(1), NumberStyles.HexNumber, CultureInfo.InvariantCulture);
        return XColor.FromArgb(rgb >> 16, (rgb >> 8) & 255, rgb & 255);
    }

    private static string Text(XElement e, string name) => e.Attribute(name)?.Value ?? "";

    private static double Value(XElement e, string name) =>
        double.TryParse(Text(e, name).Replace("px", "", StringComparison.Ordinal), CultureInfo.InvariantCulture, out var value) ? value : 0;
}
