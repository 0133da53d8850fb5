namespace Seamwright.GroundTruth.Truth;

/// <summary>What is already known of a change before its levels are read: the notes and the pitch's way.</summary>
internal sealed record KnownChange
{
    /// <summary>Filled but for the levels.</summary>
    public required TruthChange Change { get; init; }

    public required double BeforeDb { get; init; }

    public required double AfterDb { get; init; }

    /// <summary>Middles of the two notes: the change lies between them.</summary>
    public required double From { get; init; }

    public required double To { get; init; }

    /// <summary>Of the two notes.</summary>
    public required (double Before, double After) Hertz { get; init; }

    /// <summary>10 % and 90 % of the pitch's way; null where it goes nowhere.</summary>
    public (double Ten, double Ninety)? Way { get; init; }
}

/// <summary>Reads dips, gaps and bursts off the exact curves.</summary>
internal sealed class ChangeReader(Curves curves)
{
    private const double LeastDb = 0.5, HeardDb = 1, GapDb = 20, BumpWithin = 0.08;

    // Two notes of different level pass into one another over 30 ms: the louder one before is no burst of the one after.
    private const double HalfBlend = 0.015;
    private readonly EarLevel ear = new(curves);

    /// <summary>The change with its levels; a rest (Kind breath) gets none.</summary>
    public TruthChange Read(KnownChange known)
    {
        var change = known.Change;
        if (change.Kind == "breath") return change;
        var quieter = Math.Min(known.BeforeDb, known.AfterDb);
        var (from, to) = (curves.Place(known.From), curves.Place(known.To));
        change = change with { Ear = EarFigures(known, quieter, from, to), GlideHidden = Hidden(known, quieter) };
        if (change.Shape == "arm-and-jump" && change.CaughtHertz is null)
        {
            var up = Math.Sign(known.Hertz.After - known.Hertz.Before);
            change = change with { SlideBefore = Slide(change.Time, known.From, known.Hertz.Before, -up, quieter), SlideAfter = Slide(change.Time, known.To, known.Hertz.After, up, quieter) };
        }

        var lowest = Lowest(from, to);
        var depth = quieter - curves.LevelAt(lowest);
        var (start, end) = Span(lowest, quieter - (depth / 2));
        change = change with { OvershootDb = depth < HeardDb ? Overshoot(known, change.Time, change.Time) : Overshoot(known, (start + end) / 2, end) };
        if (depth < LeastDb) return change;
        var centre = (start + end) / 2;
        return change with
        {
            DipDb = Rounded(depth),
            DipWidthMs = Rounded(1000 * (end - start)),
            DipCentre = Rounded(centre),
            TongueOffsetMs = change.GlideCentre is { } g ? Rounded(1000 * (centre - g)) : null,
            GapMs = depth > GapDb ? Width(lowest, quieter - GapDb) : null,
        };
    }

    private TruthEar EarFigures(KnownChange known, double quieter, int from, int to)
    {
        var lowest = quieter;
        var (below10, below20) = (0, 0);
        for (var i = from; i <= to; i++)
        {
            var level = ear.At(i);
            lowest = Math.Min(lowest, level);
            if (level < quieter - 10) below10++;
            if (level < quieter - 20) below20++;
        }

        return new TruthEar
        {
            DipDb = Rounded(quieter - lowest),
            Below10Ms = Rounded(1000 * below10 * Curves.Step),
            GapMs = Rounded(1000 * below20 * Curves.Step),
            AudibleGlideMs = known.Way is { } way ? Rounded(1000 * ShareOf(way, p => ear.At(p) > quieter - 6) * (way.Ninety - way.Ten)) : null,
        };
    }

    // Outward from the break to where less than a tenth of the way is left.
    private TruthSlide? Slide(double at, double until, double hz, int beyond, double quieter)
    {
        const double Least = 0.3, Begins = 0.1;
        var (from, to) = (curves.Place(at), curves.Place(until));
        var way = Math.Sign(to - from);
        double Off(int i) => beyond * 12 * Math.Log2(curves.HertzAt(i) / hz);
        var last = from + (way * Enumerable.Range(1, Math.Max(1, Math.Abs(to - from))).MaxBy(k => Off(from + (k * way))));
        var extent = Off(last);
        if (extent < Least) return null;
        while (last != to && Off(last) >= Begins * extent) last += way;
        var (start, end) = (Math.Min(from, last), Math.Max(from, last));
        var loud = Enumerable.Range(start, end - start).Count(i => ear.At(i) > quieter - 6);
        return new(Rounded(1000 * loud * Curves.Step), Rounded(extent));
    }

    private double Hidden(KnownChange known, double quieter) =>
        known.Way is { } way ? Rounded(ShareOf(way, p => curves.LevelAt(p) < quieter - GapDb)) : 0;

    private double ShareOf((double Ten, double Ninety) way, Func<int, bool> holds)
    {
        var (from, to) = (curves.Place(way.Ten), curves.Place(way.Ninety));
        return Enumerable.Range(from, to - from + 1).Count(holds) / (double)(to - from + 1);
    }

    // The new note begins where the level is half way back from its dip, or with the pitch where that comes later. Until the pitch is the new one's
    // only what exceeds both notes is a burst.
    private double? Overshoot(KnownChange known, double from, double back)
    {
        var highest = double.MinValue;
        var (louder, turned) = (Math.Max(known.BeforeDb, known.AfterDb), known.Change.Time + HalfBlend);
        for (var t = from; t <= Math.Max(back, known.Change.Time) + BumpWithin; t += Curves.Step)
            highest = Math.Max(highest, curves.Level(t) - (t < turned ? louder : known.AfterDb));
        return highest >= LeastDb ? Rounded(highest) : null;
    }

    private int Lowest(int from, int to)
    {
        var lowest = from;
        for (var i = from; i <= to; i++)
            if (curves.LevelAt(i) < curves.LevelAt(lowest)) lowest = i;
        return lowest;
    }

    private double Width(int at, double level)
    {
        var (start, end) = Span(at, level);
        return Rounded(1000 * (end - start));
    }

    // Straight lines between the places make the crossing exact far below the grid.
    private (double Start, double End) Span(int at, double level)
    {
        var (a, b) = (at, at);
        while (a > 0 && curves.LevelAt(a) < level) a--;
        while (b < curves.Count - 1 && curves.LevelAt(b) < level) b++;
        return (Curves.Step * (a + Part(a, a + 1, level)), Curves.Step * (b - 1 + Part(b - 1, b, level)));
    }

    private double Part(int a, int b, double level)
    {
        if (a < 0 || b >= curves.Count) return 0;
        var (x, y) = (curves.LevelAt(a), curves.LevelAt(b));
        return x == y ? 0 : Math.Clamp((level - x) / (y - x), 0, 1);
    }

    private static double Rounded(double value) => Math.Round(value, 6);
}
