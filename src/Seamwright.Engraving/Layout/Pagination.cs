using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Layout;

/// <summary>A system at its place on a page.</summary>
/// <param name="System">The system.</param>
/// <param name="Dy">What is added to the engraver's y.</param>
internal sealed record PlacedSystem(DressedSystem System, double Dy);

/// <summary>Fills pages with systems from top to bottom.</summary>
/// <param name="size">Paper.</param>
/// <param name="headHeight">What the head takes on the first page, from the top margin.</param>
internal sealed class Pagination(PageSize size, double headHeight)
{
    /// <summary>Least white between two systems' ink.</summary>
    private const double LeastGap = 420;

    /// <summary>Most white between them on a page that is not full.</summary>
    private const double WantedGap = 950;

    /// <summary>Most white between them on a full page.</summary>
    private const double MostGap = 1700;

    private const double UnderHead = 350;

    /// <summary>At least one page; no page but the first can be empty.</summary>
    public IReadOnlyList<IReadOnlyList<PlacedSystem>> Pages(IReadOnlyList<DressedSystem> systems)
    {
        var pages = new List<List<DressedSystem>> { new() };
        var used = 0.0;
        foreach (var system in systems)
        {
            var gap = pages[^1].Count == 0 ? 0 : LeastGap;
            if (pages[^1].Count > 0 && used + gap + system.Height > Room(pages.Count - 1))
            {
                pages.Add([]);
                (used, gap) = (0, 0);
            }

            pages[^1].Add(system);
            used += gap + system.Height;
        }

        return [.. pages.Select((p, i) => Place(p, i, i == pages.Count - 1))];
    }

    private double Top(int page) => PageSize.Top + (page == 0 ? headHeight + UnderHead : 0);

    private double Room(int page) => size.Height - PageSize.Bottom - Top(page);

    private List<PlacedSystem> Place(List<DressedSystem> systems, int page, bool last)
    {
        var free = Room(page) - systems.Sum(s => s.Height);
        var even = systems.Count > 1 ? free / (systems.Count - 1) : 0;
        var gap = Math.Clamp(even, LeastGap, last ? WantedGap : MostGap);
        var placed = new List<PlacedSystem>();
        var y = Top(page);
        foreach (var system in systems)
        {
            placed.Add(new(system, y - system.Top));
            y += system.Height + gap;
        }

        return placed;
    }
}
