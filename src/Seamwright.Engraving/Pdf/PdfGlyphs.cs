using PdfSharp.Drawing;
using PdfSharp.Pdf;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Pdf;

/// <summary>Paths and fonts of one document, made once each.</summary>
internal sealed class PdfGlyphs
{
    private static readonly XPdfFontOptions Embedded = new(PdfFontEncoding.Unicode, PdfFontEmbedding.TryComputeSubset);
    private readonly Dictionary<string, IReadOnlyList<XGraphicsPath>> paths = new(StringComparer.Ordinal);
    private readonly Dictionary<(string Name, double Size), XFont> fonts = [];

    public IReadOnlyList<XGraphicsPath> Paths(string d) => paths.TryGetValue(d, out var path) ? path : paths[d] = Build(PathData.Read(d));

    public XFont Font(string name, double size) =>
        fonts.TryGetValue((name, size), out var font) ? font : fonts[(name, size)] = new XFont(name, size, XFontStyleEx.Regular, Embedded);

    /// <summary>Closed figures share one path, so that holes stay holes; PDFsharp would join an open figure to the next one, so that begins a new path.</summary>
    private static List<XGraphicsPath> Build(IReadOnlyList<PathStep> steps)
    {
        var built = new List<XGraphicsPath>();
        var open = true;
        foreach (var step in steps)
        {
            if (step.Kind == PathStepKind.Move)
            {
                if (open) built.Add(new XGraphicsPath { FillMode = XFillMode.Winding });
                else built[^1].StartFigure();
                open = true;
            }
            else if (step.Kind == PathStepKind.Close)
            {
                built[^1].CloseFigure();
                open = false;
            }
            else if (step.Kind == PathStepKind.Line) built[^1].AddLine(At(step.From), At(step.To));
            else built[^1].AddBezier(At(step.From), At(step.A), At(step.B), At(step.To));
        }

        return built;
    }

    private static XPoint At(Spot spot) => new(spot.X, spot.Y);
}
