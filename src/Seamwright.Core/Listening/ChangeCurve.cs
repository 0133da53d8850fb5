namespace Seamwright.Core.Listening;

/// <summary>Pitch and level through one change.</summary>
internal sealed class ChangeCurve(double from, int count)
{
    private readonly bool[] muted = new bool[count];

    public int Count { get; } = count;

    public double[] Hz { get; } = new double[count];

    public float[] Strength { get; } = new float[count];

    public double[] Db { get; } = new double[count];

    public double[] Window { get; } = new double[count];

    public double Time(int i) => from + (i * FinePitch.Hop);

    /// <summary>Takes over the pitch of the reading before.</summary>
    public void Repeat(int i) => (Hz[i], Strength[i], Window[i]) = (Hz[i - 1], Strength[i - 1], Window[i - 1]);

    /// <summary>Takes away what was read as pitch where the level lies below a limit.</summary>
    public void Mute(double limit)
    {
        for (var i = 0; i < Count; i++)
        {
            if (Db[i] < limit) (Strength[i], muted[i]) = (0, true);
        }
    }

    /// <summary>Whether pitch was taken away anywhere in a span.</summary>
    public bool IsMuted(double start, double end) => muted.AsSpan(Index(start), Index(end) - Index(start) + 1).Contains(true);

    /// <summary>The reading nearest to a time.</summary>
    public int Index(double time) => Math.Clamp((int)Math.Round((time - from) / FinePitch.Hop), 0, Count - 1);

    /// <summary>How far the pitch has gone from one note to the other, in shares of the interval; gaps are bridged by a step in their middle.</summary>
    public double[] Shares(double a, double b)
    {
        var broken = Broken((int)Math.Ceiling(1 / Math.Min(a, b) / FinePitch.Hop));
        var share = new double[Count];
        var span = Math.Log2(b / a);
        var (last, lastAt) = (0.0, -1);
        for (var i = 0; i < Count; i++)
        {
            var x = Hz[i] > 0 && !broken[i] ? Math.Log2(Hz[i] / a) / span : double.NaN;
            if (double.IsNaN(x) || x < -1.2 || x > 2.2) continue;
            // A slide on one partial stays periodic; where it is not, a partial breaks, and the pitch jumps in the middle.
            for (var k = lastAt + 1; k < i; k++) share[k] = lastAt < 0 || 2 * k >= lastAt + i ? x : last;
            share[i] = x;
            (last, lastAt) = (x, i);
        }

        for (var k = lastAt + 1; k < Count; k++) share[k] = last;
        return share;
    }

    // Below 0.7 of full correlation a partial breaks (measured on one player: slides stay above 0.88). What is read there as pitch is
    // neither note, and a window's length to either side still overlaps it, until the correlation is whole again.
    private bool[] Broken(int reach)
    {
        var full = Strength.Max();
        var broken = new bool[Count];
        for (var i = 0; i < Count; i++)
        {
            if (Strength[i] >= 0.7f * full) continue;
            broken[i] = true;
            for (var side = -1; side <= 1; side += 2)
            {
                for (var k = 1; k <= reach; k++)
                {
                    var at = i + (side * k);
                    if (at < 0 || at >= Count || Strength[at] >= 0.97f * full) break;
                    broken[at] = true;
                }
            }
        }

        return broken;
    }

    /// <summary>The lowest reading of the level within a span; the first of equals.</summary>
    public int Bottom(double start, double end)
    {
        var (from, to) = (Index(start), Index(end));
        var lowest = from;
        for (var i = from; i <= to; i++)
        {
            if (Db[i] < Db[lowest]) lowest = i;
        }

        return lowest;
    }

    /// <summary>How long the level, in the ear's own window, stays below a limit without a break about one reading, seconds; 0 where it does
    /// not lie below there. What a note's own swelling does elsewhere is no part of it.</summary>
    public double Below(double limit, int about)
    {
        if (Db[about] >= limit) return 0;
        var (first, last) = (about, about);
        while (first > 0 && Db[first - 1] < limit) first--;
        while (last < Count - 1 && Db[last + 1] < limit) last++;
        return FinePitch.Hop * (last - first + 1);
    }

    /// <summary>Lowest correlation in a span.</summary>
    public double Lowest(double start, double end)
    {
        var lowest = 1.0;
        for (var i = 0; i < Count; i++)
        {
            if (Time(i) >= start && Time(i) <= end) lowest = Math.Min(lowest, Strength[i]);
        }

        return Math.Max(0, lowest);
    }
}
