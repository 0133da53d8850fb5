using Seamwright.Core.Diagnosis;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Guidance;
using Seamwright.Engraving.Pages;
using Seamwright.Engraving.Report;

namespace Seamwright.Engraving.Book;

/// <summary>Explains the signs of a book once, and says once what practising must not do.</summary>
internal sealed class HowToRead(IReadOnlyList<LegendEntry> legend, PageSize size, SheetFonts fonts)
{
    private const double Points = 10;
    private readonly Lettering letters = new(fonts);

    private double Width => size.TextWidth;

    /// <summary>All of it; it keeps together.</summary>
    /// <param name="points">Size of its title.</param>
    public IReadOnlyList<Block> Blocks(double points)
    {
        List<Block> blocks = [Titles.Of(letters, Width, "How to read these sheets", points) with { Before = 900 }, .. Words(), .. Signs(), .. Care()];
        return [.. blocks.Select((b, i) => i + 1 < blocks.Count ? b with { KeepsWithNext = true } : b)];
    }

    private IEnumerable<Block> Words()
    {
        string[] lines =
        [
            "Above a note stands where the slide goes; below it stands what happens on the way into the note.",
            "Tick a tempo when everything is easy in it, and only then take the next.",
            "Levels run from 1, the first year, to 6, the profession: they say how far the notes reach and how hard the hardest change is.",
        ];
        return lines.Select(l => letters.Paragraph(Face.Page, Points, Width, l, Lettering.Ink) with { Before = 70 });
    }

    // Two columns, read across.
    private IEnumerable<Block> Signs()
    {
        const double Em = Points * PageSize.Point, Row = 1.9 * Em;
        var print = new LegendPrint(fonts, Points);
        var half = Width / 2;
        for (var i = 0; i < legend.Count;)
        {
            var row = Print.Group("signs");
            var (left, first) = print.Draw(legend[i++]);
            row.Add(Print.At(0, Em, first));
            if (i < legend.Count && left < half - 300)
            {
                var (right, second) = print.Draw(legend[i]);
                if (right <= half)
                {
                    row.Add(Print.At(half, Em, second));
                    i++;
                }
            }

            yield return new Block(row, Row) { Before = i <= 2 ? 220 : 0 };
        }
    }

    private IEnumerable<Block> Care() =>
        Cautions.Lines.Take(2).Select((line, i) => letters.Paragraph(Face.PageItalic, Points, Width, line, Lettering.Ink) with { Before = i == 0 ? 250 : 60 });

    /// <summary>As one piece, to stand between exercises.</summary>
    /// <param name="points">Size of its title.</param>
    public Piece AsPiece(double points)
    {
        var (group, y) = (Print.Group("how-to-read"), 0.0);
        foreach (var block in Blocks(points))
        {
            if (y > 0) y += block.Before;
            group.Add(Print.At(0, y, block.Drawing));
            y += block.Height;
        }

        return new Piece(group, y) { Before = 900, Stretch = 900 };
    }
}
