using System.Collections.Immutable;
using System.Xml.Linq;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Report;

/// <summary>Something that goes onto a page whole.</summary>
/// <param name="Drawing">About the upper left corner of its place.</param>
/// <param name="Height">It takes.</param>
internal sealed record Block(XElement Drawing, double Height)
{
    /// <summary>White above it, except at the top of a page.</summary>
    public double Before { get; init; }

    /// <summary>Whether it must not stand last on a page.</summary>
    public bool KeepsWithNext { get; init; }

    /// <summary>Repeated above it where it begins a page: a table's head.</summary>
    public Block? Head { get; init; }
}

/// <summary>Fills pages with blocks from top to bottom.</summary>
/// <remarks>What is left at the foot of a page that is turned goes into its wide gaps: a block that did not fit leaves no hole.</remarks>
/// <param name="left">Left margin.</param>
/// <param name="top">Where the first block of a page begins.</param>
/// <param name="bottom">Where the last one ends.</param>
internal sealed class Flow(double left, Func<int, double> top, double bottom)
{
    // White from which on a gap may grow, unless a heading stands above it, and by how much at most.
    private const double WideGap = 300, MostMore = 900;

    private readonly List<List<(XElement Drawing, double Y, bool IsWide)>> pages = [new()];
    private double y = top(0);

    /// <summary>At least one page, each a list of placed drawings.</summary>
    public ImmutableArray<ImmutableArray<XElement>> Pages => [.. pages.Select(p => p.Select(b => Print.At(left, b.Y, b.Drawing)).ToImmutableArray())];

    /// <summary>Places blocks in order; one that keeps with the next goes where that one goes.</summary>
    public void Add(IReadOnlyList<Block> blocks)
    {
        for (var i = 0; i < blocks.Count;)
        {
            var together = 1;
            while (i + together < blocks.Count && blocks[i + together - 1].KeepsWithNext) together++;
            Place([.. blocks.Skip(i).Take(together)]);
            i += together;
        }
    }

    private void Place(IReadOnlyList<Block> group)
    {
        var needed = group.Sum(b => b.Before + b.Height) - (IsFresh ? group[0].Before : 0);
        if (!IsFresh && y + needed > bottom) Turn();
        var keeps = false;
        foreach (var block in group)
        {
            var isWide = !IsFresh && !keeps && block.Before >= WideGap;
            if (IsFresh && block.Head is { } head) Put(head, false);
            else if (!IsFresh) y += block.Before;
            Put(block, isWide);
            keeps = block.KeepsWithNext;
        }
    }

    private bool IsFresh => pages[^1].Count == 0;

    private void Turn()
    {
        Spread(pages[^1], bottom - y);
        pages.Add([]);
        y = top(pages.Count - 1);
    }

    private static void Spread(List<(XElement Drawing, double Y, bool IsWide)> page, double rest)
    {
        var gaps = page.Count(b => b.IsWide);
        if (gaps == 0 || rest <= 0) return;
        var (more, down) = (Math.Min(MostMore, rest / gaps), 0.0);
        for (var i = 0; i < page.Count; i++)
        {
            if (page[i].IsWide) down += more;
            page[i] = page[i] with { Y = page[i].Y + down };
        }
    }

    private void Put(Block block, bool isWide)
    {
        pages[^1].Add((new XElement(block.Drawing), y, isWide));
        y += block.Height;
    }
}
