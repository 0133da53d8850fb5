using Seamwright.Core.Diagnosis;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Guidance;
using Seamwright.Engraving.Pages;
using Seamwright.Engraving.Report;

namespace Seamwright.Engraving.Book;

/// <summary>Explains the signs of a book once, and says once what practising must not do.</summary>
/// <param name="legend">Every sign that occurs.</param>
/// <param name="size">Of the page.</param>
/// <param name="fonts">For words and signs.</param>
/// <param name="points">Size of the letters.</param>
internal sealed class HowToRead(IReadOnlyList<LegendEntry> legend, PageSize size, SheetFonts fonts, double points = 10)
{
    private readonly Lettering letters = new(fonts);

    /// <summary>The same for a page that holds nothing else.</summary>
    public HowToRead Larger => new(legend, size, fonts, 1.25 * points);

    private double Width => size.TextWidth;

    /// <summary>All of it; it keeps together.</summary>
    /// <param name="title">Size of its title, points.</param>
    public IReadOnlyList<Block> Blocks(double title)
    {
        List<Block> blocks = [Titles.Of(letters, Width, "How to read these sheets", title) with { Before = 900 }, .. Words(), .. Signs(), .. Care()];
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
        return lines.Select(l => letters.Paragraph(Face.Page, points, Width, l, Lettering.Ink) with { Before = 70 });
    }

    // Two columns, read across.
    private IEnumerable<Block> Signs()
    {
        double em = points * PageSize.Point, row = 1.9 * em;
        var print = new LegendPrint(fonts, points);
        var half = Width / 2;
        for (var i = 0; i < legend.Count;)
        {
            var signs = Print.Group("signs");
            var (left, first) = print.Draw(legend[i++]);
            signs.Add(Print.At(0, em, first));
            if (i < legend.Count && left < half - 300)
            {
                var (right, second) = print.Draw(legend[i]);
                if (right <= half)
                {
                    signs.Add(Print.At(half, em, second));
                    i++;
                }
            }

            yield return new Block(signs, row) { Before = i <= 2 ? 220 : 0 };
        }
    }

    private IEnumerable<Block> Care() =>
        Cautions.Lines.Take(2).Select((line, i) => letters.Paragraph(Face.PageItalic, points, Width, line, Lettering.Ink) with { Before = i == 0 ? 250 : 60 });

    /// <summary>As one piece, to stand between exercises.</summary>
    /// <param name="title">Size of its title, points.</param>
    public Piece AsPiece(double title)
    {
        var (group, y) = (Print.Group("how-to-read"), 0.0);
        foreach (var block in Blocks(title))
        {
            if (y > 0) y += block.Before;
            group.Add(Print.At(0, y, block.Drawing));
            y += block.Height;
        }

        return new Piece(group, y) { Before = 900, Stretch = 900 };
    }
}
