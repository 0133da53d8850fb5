using CsCheck;
using Seamwright.Engraving.Book;
using Seamwright.Engraving.Pages;

namespace Seamwright.Tests.Engraving;

public class BookFlowTests
{
    private const double Top = 1000, Bottom = 11000;

    // Heights of systems and where sections begin; each unit has a head before and a line behind.
    private static readonly Gen<(int Height, bool Section)[][]> Books = Gen.Select(Gen.Int[300, 2600], Gen.Bool).Array[1, 14].Array[1, 12];

    private static List<Piece> Unit((int Height, bool Section)[] systems, int entry) =>
    [
        new(Print.Group("head"), 1500) { Before = 800, Stretch = 900, Entry = entry },
        .. systems.Select((s, i) => new Piece(Print.Group("system"), s.Height) { Before = 300, Stretch = 500, MayBegin = i > 0, BeginsSection = s.Section, Shapes = Print.Element("defs") }),
        new(Print.Group("rest"), 200) { Before = 100 },
    ];

    private static (List<List<Piece>> Units, List<IReadOnlyList<PlacedPiece>> Pages) Flowed((int Height, bool Section)[][] book)
    {
        var units = book.Select(Unit).ToList();
        var flow = new BookFlow(Top, Bottom);
        List<IReadOnlyList<PlacedPiece>> pages = [.. units.SelectMany(u => flow.Add(u)), .. flow.Finish()];
        return (units, pages);
    }

    [Fact]
    public void Every_piece_is_placed_once_in_order_and_within_its_page() => Books.Sample(book =>
    {
        var (units, pages) = Flowed(book);
        Assert.Equal(units.SelectMany(u => u), pages.SelectMany(p => p).Select(p => p.Piece));
        foreach (var page in pages)
        {
            Assert.Equal(Top, page[0].Y);
            Assert.All(page.Zip(page.Skip(1)), p => Assert.True(p.Second.Y >= p.First.Y + p.First.Piece.Height + ((1 - BookFlow.Squeeze) * p.Second.Piece.Before) - 1e-6));
            Assert.True(page[^1].Y + page[^1].Piece.Height <= Bottom + 1e-6);
        }
    });

    [Fact]
    public void A_unit_shares_the_page_before_where_it_fits_whole() => Books.Sample(book =>
    {
        var (units, pages) = Flowed(book);
        foreach (var (before, unit) in units.Zip(units.Skip(1)))
        {
            var open = pages.Single(p => p.Any(x => x.Piece == before[^1])).Select(p => p.Piece).TakeWhile(p => p != unit[0]).ToList();
            var together = open.Concat(unit).Sum(p => p.Height) + ((1 - BookFlow.Squeeze) * open.Concat(unit).Skip(1).Sum(p => p.Before));
            var shares = pages.Single(p => p.Any(x => x.Piece == unit[0]))[0].Piece == open[0];
            Assert.Equal(together <= Bottom - Top, shares);
        }
    });

    [Fact]
    public void What_fits_a_page_is_not_parted_and_no_head_or_last_line_stands_alone() => Books.Sample(book =>
    {
        var (units, pages) = Flowed(book);
        foreach (var unit in units)
        {
            var height = unit.Sum(p => p.Before + p.Height) - unit[0].Before;
            var on = pages.Where(p => p.Any(x => unit.Contains(x.Piece))).ToList();
            if (height <= Bottom - Top) Assert.Single(on);
            else Assert.Equal(unit[0], on[0][0].Piece);
            Assert.All(on, p => Assert.Contains(p, x => x.Piece.Shapes is not null && unit.Contains(x.Piece)));
        }
    });

    [Fact]
    public void A_filler_stands_at_the_end_of_the_first_page_with_room() => Books.Sample(book =>
    {
        var filler = new Piece(Print.Group("filler"), 2000) { Before = 900 };
        var flow = new BookFlow(Top, Bottom) { Filler = filler };
        List<IReadOnlyList<PlacedPiece>> pages = [.. book.Select(Unit).SelectMany(u => flow.Add(u)), .. flow.Finish()];
        Assert.Equal(flow.Filler is null ? 1 : 0, pages.Sum(p => p.Count(x => x.Piece == filler)));
        Assert.Equal(pages.Count, Flowed(book).Pages.Count);
        Assert.All(pages.Where(p => p.Any(x => x.Piece == filler)), p => Assert.Same(filler, p[^1].Piece));
        if (flow.Filler is null) return;

        // Wherever it is left over, no page that was left for the next unit had room for it.
        foreach (var (page, next) in pages.Zip(pages.Skip(1)).Where(p => p.Second[0].Piece.Entry is not null && p.First.Any(x => x.Piece.Entry is not null)))
            Assert.True(page.Sum(p => p.Piece.Height) + 2000 + ((1 - BookFlow.Squeeze) * (900 + page.Skip(1).Sum(p => p.Piece.Before))) > Bottom - Top);
    });
}
