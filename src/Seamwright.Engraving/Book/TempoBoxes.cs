using System.Xml.Linq;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Pages;
using Seamwright.Engraving.Report;

namespace Seamwright.Engraving.Book;

/// <summary>A box to tick for each tempo.</summary>
/// <param name="letters">For the words.</param>
/// <param name="tempos">As printed, slow to fast; at least one.</param>
internal sealed class TempoBoxes(Lettering letters, IReadOnlyList<string> tempos)
{
    private const double Points = 9.5, Em = Points * PageSize.Point, Side = 0.82 * Em, Gap = 1.1 * Em, Line = 1.75 * Em;
    private readonly double cell = Side + (0.5 * Em) + tempos.Max(t => letters.Width(Face.Page, Points, t)) + Gap;

    /// <summary>How wide all of them are beside each other.</summary>
    public double RowWidth => (tempos.Count * cell) - Gap;

    /// <summary>Draws them beside each other on one line of text.</summary>
    /// <param name="group">They are added to.</param>
    /// <param name="right">Where the last one ends.</param>
    /// <param name="y">Where the line of text begins.</param>
    public void Row(XElement group, double right, double y)
    {
        for (var i = 0; i < tempos.Count; i++) Draw(group, i, right - RowWidth + (i * cell), y + Em);
    }

    /// <summary>Draws them in as many rows as they need, under a word on what they are for.</summary>
    /// <param name="group">They are added to.</param>
    /// <param name="left">Left edge.</param>
    /// <param name="right">Right edge.</param>
    /// <param name="y">Upper edge.</param>
    /// <returns>The lower edge.</returns>
    public double Column(XElement group, double left, double right, double y)
    {
        var words = letters.Paragraph(Face.PageItalic, 8.5, right - left, tempos.Count == 1 ? "Tick it when it is easy." : "Tick a tempo when it is easy, then take the next.", Lettering.Faint);
        group.Add(Print.At(left, y, words.Drawing));
        y += words.Height + 60;
        var most = Math.Max(1, (int)((right - left + Gap) / cell));

        // No row with one box where the others could give it some.
        var rows = (tempos.Count + most - 1) / most;
        var across = (tempos.Count + rows - 1) / rows;
        for (var i = 0; i < tempos.Count; i++) Draw(group, i, left + (i % across * cell), y + (i / across * Line) + Em);
        return y + (rows * Line);
    }

    private void Draw(XElement group, int tempo, double x, double baseline)
    {
        group.Add(Print.Element("rect", Print.Is("x", x), Print.Is("y", baseline - Side + (0.06 * Em)), Print.Is("width", Side), Print.Is("height", Side), Print.Is("fill", "none"), Print.Is("stroke", "currentColor"), Print.Is("stroke-width", 18)));
        group.Add(Lettering.Word(Face.Page, Points, x + Side + (0.5 * Em), baseline, tempos[tempo], Lettering.Ink));
    }
}
