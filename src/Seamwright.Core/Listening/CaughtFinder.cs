namespace Seamwright.Core.Listening;

/// <summary>Looks for a pitch that was caught between two notes: loud enough to be heard, hardly moving for a while, and neither of them.</summary>
/// <remarks>A tone repeats at half and a third of its period too where its even harmonics, or every third, outweigh the others. So an octave or
/// a twelfth over a note is told only where a partial was to change and where the note itself, while it stands, repeats far worse there
/// than what was caught; in between it is left open. See <see cref="CaughtReadings"/>.</remarks>
/// <param name="fine">The sound.</param>
/// <param name="curve">Pitch and level through the change.</param>
/// <param name="a">The note before.</param>
/// <param name="b">The note after.</param>
/// <param name="boundary">About when one gives way to the other, seconds.</param>
/// <param name="rings">Whether the old note rings on in the new one.</param>
internal sealed class CaughtFinder(FinePitch fine, ChangeCurve curve, SteadyNote a, SteadyNote b, double boundary, bool rings)
{
    private const double AtLeast = 0.03;
    internal const double Furthest = 0.25;

    // The arm carries a caught partial along while it moves, no further than this, cents.
    private const double MostCarried = 120;

    // Cents: a way that lies nearer all along is what was heard.
    private const double Explained = 60;

    /// <summary>What was caught.</summary>
    /// <param name="Hz">Its pitch, half way through.</param>
    /// <param name="From">First reading of it, seconds.</param>
    /// <param name="To">Last reading of it.</param>
    /// <param name="MayBeNote">Whether a note's own sound may have been taken for it.</param>
    /// <param name="Jumped">Whether the pitch jumps to it and away from it.</param>
    public readonly record struct Held(double Hz, double From, double To, bool MayBeNote, bool Jumped = false)
    {
        /// <summary>Middle, seconds.</summary>
        public double Time => (From + To) / 2;
    }

    /// <summary>The longest such pitch; null where there is none.</summary>
    /// <param name="carried">Readings that are a note on its way, see <see cref="CarriedWays"/>.</param>
    /// <param name="mayBreak">Whether a partial was to change.</param>
    public Held? Find(bool[] carried, bool mayBreak)
    {
        var readings = new CaughtReadings(fine, curve, a, b, carried, rings, i => Math.Abs(curve.Time(i) - boundary) < Furthest && curve.Db[i] >= Math.Min(a.Db, b.Db) - ChangeMeter.Silent);
        foreach (var (first, last) in Runs(readings.Of(mayBreak)).Where(r => (r.Last - r.First) * FinePitch.Hop >= AtLeast).OrderByDescending(r => r.Last - r.First))
        {
            var middle = (first + last) / 2;
            while (readings.Kind(middle) == CaughtKind.None) middle++;
            if (readings.Standing(middle) is { } open) return new(readings.Hz(middle), curve.Time(first), curve.Time(last), open, Jumps(readings.Hz(first), first, -1, a) && Jumps(readings.Hz(last), last, 1, b));
        }

        return null;
    }

    /// <summary>Whether a fitted way is what was heard there. A way that passes by is near any pitch once, and one with a jump in it can stand
    /// still anywhere: where the pitch jumps to and fro only a slide that lies near it all along is believed.</summary>
    public static bool IsOn(Held held, FittedGlide glide)
    {
        return Near(held.Time) && (!held.Jumped || (glide.Shape.Jump == 0 && Near(held.From) && Near(held.To)));

        bool Near(double t) => Cents(glide.At(t), held.Hz) < Explained;
    }

    private List<(int First, int Last)> Runs(CaughtReadings readings)
    {
        var runs = new List<(int First, int Last)>();
        var (start, last) = (-1, -1);
        for (var i = 0; i < curve.Count; i++)
        {
            if (readings.Kind(i) == CaughtKind.None) continue;
            if (start >= 0 && CarriedWays.GoesOn(i - last, readings.Hz(last), readings.Hz(i)) && Cents(readings.Hz(i), readings.Hz(start)) <= MostCarried) runs[^1] = (start, i);
            else runs.Add((start = i, i));
            last = i;
        }

        return runs;
    }

    // From the end of what was caught outwards: a slide goes on to the note without a jump.
    private bool Jumps(double hz, int end, int side, SteadyNote note)
    {
        var last = end;
        for (var i = end + side; i >= 0 && i < curve.Count && Math.Abs(i - last) <= CarriedWays.Lapse; i += side)
        {
            if (curve.Hz[i] <= 0 || curve.Strength[i] < CarriedWays.Periodic || !CarriedWays.GoesOn(Math.Abs(i - last), hz, curve.Hz[i])) continue;
            (hz, last) = (curve.Hz[i], i);
            if (Cents(hz, note.Hz) <= Explained) return false;
        }

        return true;
    }

    private static double Cents(double hz, double other) => Math.Abs(1200 * Math.Log2(hz / other));
}
