using System.Collections.Immutable;
using System.Xml.Linq;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Layout;
using Seamwright.Engraving.Pages;
using Seamwright.Engraving.Report;

namespace Seamwright.Engraving.Book;

/// <summary>A line of the contents that leads to an exercise.</summary>
/// <param name="Entry">Which, from 0.</param>
/// <param name="Page">Of the contents it stands on, from 0.</param>
/// <param name="Place">On that page.</param>
internal readonly record struct ContentsLink(int Entry, int Page, Box Place);

/// <summary>Sets the pages between cover and music: contents, and how to read what follows.</summary>
internal sealed class BookFront(IReadOnlyList<BookEntry> entries, IReadOnlyList<Block> howTo, PageSize size, SheetFonts fonts, double bottom)
{
    private const double Points = 10, Em = Points * PageSize.Point, Row = 1.62 * Em;
    private const string LineClass = "contents-line";
    private readonly Lettering letters = new(fonts);

    private double Width => size.TextWidth;

    /// <summary>The pages' drawings.</summary>
    /// <param name="pageOf">The number printed for each exercise.</param>
    public ImmutableArray<ImmutableArray<XElement>> Pages(Func<int, int> pageOf) => PagesOf([.. Contents(pageOf), .. howTo]);

    private ImmutableArray<ImmutableArray<XElement>> PagesOf(IReadOnlyList<Block> blocks)
    {
        var flow = new Flow(PageSize.Side, _ => BookSheet.Top, bottom);
        flow.Add([.. blocks]);
        return flow.Pages;
    }

    /// <summary>Whether there is something to read under the contents, and room for it on their last page.</summary>
    public bool HoldsHowTo => howTo.Count > 0 && Pages(_ => 100).Length == PagesOf([.. Contents(_ => 100)]).Length;

    /// <summary>Where on pages the lines of the contents stand.</summary>
    public IEnumerable<ContentsLink> Links(ImmutableArray<ImmutableArray<XElement>> pages)
    {
        for (var page = 0; page < pages.Length; page++)
        {
            foreach (var placed in pages[page])
            {
                foreach (var line in placed.Elements().Where(e => e.Attribute("class")?.Value == LineClass))
                {
                    var at = Transform.Read(placed.Attribute("transform")!.Value).Of(0, 0);
                    yield return new(int.Parse(line.Attribute("id")!.Value.AsSpan(1)), page, new Box(at.X, at.Y, at.X + Width, at.Y + Row));
                }
            }
        }
    }

    private IEnumerable<Block> Contents(Func<int, int> pageOf)
    {
        yield return Title("Contents");
        for (var i = 0; i < entries.Count; i++)
        {
            if (entries[i].Chapter.Length > 0) yield return letters.Paragraph(Face.PageStrong, 10.5, Width, entries[i].Chapter, Lettering.Ink, most: 1) with { Before = i == 0 ? 60 : 260, KeepsWithNext = true };
            yield return Line(i, pageOf(i));
        }
    }

    private Block Line(int index, int page)
    {
        var (number, words) = ($"{index + 1}", $"{page}");
        const double Left = 900;
        var exercise = entries[index].Exercise;
        var level = $"level {exercise.Level}";
        var right = Width - letters.Width(Face.Page, Points, words);
        var levelRight = Width - 1100.0;
        var levelLeft = levelRight - letters.Width(Face.PageItalic, 9, level);
        var range = exercise.Range.Low == exercise.Range.High ? "" : exercise.RangeWords;
        var rangeWidth = letters.Width(Face.PageItalic, 9, range);
        var title = TextWrap.Lines(PlainText.OneLine(exercise.Title), levelLeft - Left - rangeWidth - 800, 1, t => fonts.Width(Face.Page, Em, t))[0];
        var rangeLeft = Left + letters.Width(Face.Page, Points, title) + 300;
        var titleEnd = range.Length == 0 ? rangeLeft - 300 : rangeLeft + rangeWidth;
        var line = Print.Group(
            LineClass,
            Print.Is("id", $"e{index}"),
            Lettering.Word(Face.Page, Points, Left - 250, Em, number, Lettering.Faint, "end"),
            Lettering.Word(Face.Page, Points, Left, Em, title, Lettering.Ink),
            range.Length == 0 ? null : Lettering.Word(Face.PageItalic, 9, rangeLeft, Em, range, Lettering.Faint),
            Leader(titleEnd + 200, levelLeft - 200),
            Lettering.Word(Face.PageItalic, 9, levelRight, Em, level, Lettering.Faint, "end"),
            Leader(levelRight + 200, right - 200),
            Lettering.Word(Face.Page, Points, Width, Em, words, Lettering.Ink, "end"));
        return new Block(line, Row);
    }

    /// <summary>Dots on a common grid, so that those of all lines stand under each other.</summary>
    private static XElement? Leader(double from, double to)
    {
        const double Step = 220;
        var dots = new List<XElement>();
        for (var x = Math.Ceiling(from / Step) * Step; x <= to; x += Step)
            dots.Add(Print.Element("ellipse", Print.Is("cx", x), Print.Is("cy", Em - 20), Print.Is("rx", 13), Print.Is("ry", 13), Print.Is("fill", Lettering.Faint), Print.Is("stroke", "none")));
        return dots.Count == 0 ? null : Print.Group("leader", dots);
    }

    private Block Title(string text) => Titles.Of(letters, Width, text, 18) with { KeepsWithNext = true };
}

/// <summary>The titles of what stands in a book besides exercises.</summary>
internal static class Titles
{
    /// <summary>A row of stitches, the title under it.</summary>
    public static Block Of(Lettering letters, double width, string text, double points)
    {
        var title = letters.Paragraph(Face.PageStrong, points, width, text, Lettering.Ink, most: 2);
        var white = 12 * points;
        return new Block(Print.Group("title", PageHead.Stitches(0, width, 0), Print.At(0, white, title.Drawing)), (2 * white) + title.Height);
    }
}
