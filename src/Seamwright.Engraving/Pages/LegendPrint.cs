using System.Xml.Linq;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Guidance;

namespace Seamwright.Engraving.Pages;

/// <summary>Draws explanations of marks.</summary>
/// <param name="fonts">Measured with.</param>
/// <param name="points">Size of the words.</param>
internal sealed class LegendPrint(SheetFonts fonts, double points)
{
    private readonly double legendSize = points * PageSize.Point;
    private readonly double markScale = 0.1025 * points;

    /// <summary>One explanation with its baseline on the origin.</summary>
    public (double Width, XElement Element) Draw(LegendEntry entry)
    {
        var group = Print.Group("legend");
        var x = 0.0;
        if (entry.Mark is { } mark)
        {
            var width = MarkShapes.WidthOf(mark) * markScale;
            var shape = Print.Element("g", Print.Is("transform", $"translate({Print.Number(width / 2)}, {Print.Number(-0.32 * legendSize)}) scale({Print.Number(markScale)}, {Print.Number(markScale)})"), MarkShapes.Shape(mark));
            group.Add(shape);
            x += width + 90;
        }

        if (entry.Sample.Length > 0)
        {
            group.Add(Print.Text(Face.MusicBold, legendSize * 1.08, x, 0, entry.Sample));
            x += fonts.Width(Face.MusicBold, legendSize * 1.08, entry.Sample) + 90;
        }

        group.Add(Print.Text(Face.Page, legendSize, x, 0, entry.Meaning));
        return (x + fonts.Width(Face.Page, legendSize, entry.Meaning), group);
    }
}
