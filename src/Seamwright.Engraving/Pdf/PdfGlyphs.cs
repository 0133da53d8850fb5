using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace Seamwright.Engraving.Pdf;

/// <summary>Paths and fonts of one document, made once each.</summary>
internal sealed class PdfGlyphs
{
    private static readonly XPdfFontOptions Embedded = new(PdfFontEncoding.Unicode, PdfFontEmbedding.TryComputeSubset);
    private readonly Dictionary<string, XGraphicsPath> paths = new(StringComparer.Ordinal);
    private readonly Dictionary<(string Name, double Size), XFont> fonts = [];

    public XGraphicsPath Path(string d) => paths.TryGetValue(d, out var path) ? path : paths[d] = PathData.Read(d);

    public XFont Font(string name, double size) =>
        fonts.TryGetValue((name, size), out var font) ? font : fonts[(name, size)] = new XFont(name, size, XFontStyleEx.Regular, Embedded);
}
