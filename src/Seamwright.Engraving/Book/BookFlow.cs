using System.Xml.Linq;

namespace Seamwright.Engraving.Book;

/// <summary>Something that goes onto a page whole.</summary>
/// <param name="Drawing">About the upper left corner of its place.</param>
/// <param name="Height">It takes, in hundredths of a millimetre.</param>
internal sealed record Piece(XElement Drawing, double Height)
{
    /// <summary>Least white above it, except at the top of a page.</summary>
    public double Before { get; init; }

    /// <summary>How much more white may stand above it.</summary>
    public double Stretch { get; init; }

    /// <summary>Whether it may begin a page of its unit.</summary>
    public bool MayBegin { get; init; }

    /// <summary>Whether a section begins with it: a better place to turn the page than any other.</summary>
    public bool BeginsSection { get; init; }

    /// <summary>Shapes its drawing refers to; null for none.</summary>
    public XElement? Shapes { get; init; }

    /// <summary>Index of the exercise that begins with it; null for all others.</summary>
    public int? Entry { get; init; }

    /// <summary>Of a head: the purpose and ways of practising that it tells in full; null where it tells none.</summary>
    public string? Words { get; init; }

    /// <summary>Of a head that tells its words: the same where they stand on this page already, by the index of the exercise that has them.</summary>
    public Func<int, Piece>? Short { get; init; }
}

/// <summary>A piece at its place.</summary>
/// <param name="Piece">The piece.</param>
/// <param name="Y">Of its upper edge, from the page's.</param>
internal readonly record struct PlacedPiece(Piece Piece, double Y);

/// <summary>Fills the pages of a book with units, each a head, its systems and what stands behind them.</summary>
/// <remarks>Several units share a page where they fit whole; where that helps, the white between pieces is made narrower by up to
/// <see cref="Squeeze"/>. A unit whose words stand on the page already, above an exercise before it, refers to that one. A unit that fits a
/// page is never parted; a longer one begins a page and is parted where it costs least: a page 1, a turn inside a section 0.6, a page left
/// white the square of its white share, a single system on the last page 0.5.</remarks>
/// <param name="top">Where a page's first piece begins.</param>
/// <param name="bottom">Where its last one ends.</param>
internal sealed class BookFlow(double top, double bottom)
{
    /// <summary>Share of the white between pieces that may be taken away (proposed default).</summary>
    public const double Squeeze = 0.35;

    private const double InsideSection = 0.6, LoneSystem = 0.5;
    private readonly List<Piece> open = [];
    private double used;

    /// <summary>Goes to the end of the first page that has room for it; null for none. Where no page had, it is left here.</summary>
    public Piece? Filler { get; set; }

    /// <summary>Whether pieces fit a page of their own.</summary>
    public bool HasRoomFor(IReadOnlyList<Piece> pieces) => Fits([], pieces);

    private double Room => bottom - top;

    /// <summary>Adds a unit of at least one piece.</summary>
    /// <returns>The pages that are full now, in order.</returns>
    public List<IReadOnlyList<PlacedPiece>> Add(IReadOnlyList<Piece> unit)
    {
        var full = new List<IReadOnlyList<PlacedPiece>>();
        if (Shortened(unit) is { } shorter && Fits(open, shorter)) unit = shorter;
        if (open.Count > 0 && !Fits(open, unit)) full.Add(Filled());
        if (open.Count > 0 || Fits([], unit))
        {
            Append(unit);
            return full;
        }

        foreach (var share in Parted(unit))
        {
            if (open.Count > 0) full.Add(Close());
            Append(share);
        }

        return full;
    }

    /// <summary>The last page, if something stands on it.</summary>
    public List<IReadOnlyList<PlacedPiece>> Finish() => open.Count > 0 ? [Close()] : [];

    private IReadOnlyList<Piece>? Shortened(IReadOnlyList<Piece> unit) =>
        unit[0] is { Short: { } made, Words: { } words } && open.Find(p => p.Words == words)?.Entry is { } told ? [made(told), .. unit.Skip(1)] : null;

    private bool Fits(IReadOnlyList<Piece> before, IReadOnlyList<Piece> unit)
    {
        List<Piece> all = [.. before, .. unit];
        return Height(all, 0, all.Count) - (Squeeze * all.Skip(1).Sum(p => p.Before)) <= Room;
    }

    private void Append(IReadOnlyList<Piece> pieces)
    {
        used += Height(pieces, 0, pieces.Count) + (open.Count > 0 ? pieces[0].Before : 0);
        open.AddRange(pieces);
    }

    private static double Height(IReadOnlyList<Piece> pieces, int from, int to) => pieces.Skip(from).Take(to - from).Sum(p => p.Before + p.Height) - pieces[from].Before;

    // The cheapest way to part a unit, found exactly.
    private IEnumerable<IReadOnlyList<Piece>> Parted(IReadOnlyList<Piece> unit)
    {
        var cost = Enumerable.Repeat(double.PositiveInfinity, unit.Count + 1).ToArray();
        var from = new int[unit.Count + 1];
        cost[0] = 0;
        for (var to = 1; to <= unit.Count; to++)
        {
            for (var start = 0; start < to; start++)
            {
                if (double.IsInfinity(cost[start]) || (start > 0 && !unit[start].MayBegin)) continue;
                var height = Height(unit, start, to);
                if (height > Room && to - start > 1) continue;
                var white = to == unit.Count ? 0 : Math.Max(0, (Room - height) / Room);
                var alone = to == unit.Count && start > 0 && unit.Skip(start).Count(p => p.MayBegin) == 1;
                var here = cost[start] + 1 + (white * white) + (start > 0 && !unit[start].BeginsSection ? InsideSection : 0) + (alone ? LoneSystem : 0);
                if (here < cost[to]) (cost[to], from[to]) = (here, start);
            }
        }

        var cuts = new Stack<int>([unit.Count]);
        while (cuts.Peek() > 0) cuts.Push(double.IsInfinity(cost[cuts.Peek()]) ? cuts.Peek() - 1 : from[cuts.Peek()]);
        var places = cuts.ToList();
        return places.Zip(places.Skip(1), (a, b) => (IReadOnlyList<Piece>)[.. unit.Skip(a).Take(b - a)]);
    }

    private List<PlacedPiece> Filled()
    {
        if (Filler is { } filler && Fits(open, [filler]))
        {
            Append([filler]);
            Filler = null;
        }

        return Close();
    }

    private List<PlacedPiece> Close()
    {
        var elastic = open.Skip(1).Sum(p => p.Stretch);
        var share = elastic > 0 ? Math.Clamp((Room - used) / elastic, 0, 1) : 0;
        var narrower = used > Room ? 1 - Math.Min(Squeeze, (used - Room) / Math.Max(1, open.Skip(1).Sum(p => p.Before))) : 1;
        var placed = new List<PlacedPiece>();
        var y = top;
        foreach (var piece in open)
        {
            if (placed.Count > 0) y += (narrower * piece.Before) + (share * piece.Stretch);
            placed.Add(new(piece, y));
            y += piece.Height;
        }

        open.Clear();
        used = 0;
        return placed;
    }
}
