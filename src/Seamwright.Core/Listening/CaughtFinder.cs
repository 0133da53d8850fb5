namespace Seamwright.Core.Listening;

/// <summary>Looks for a pitch that was caught between two notes: loud enough to be heard, hardly moving for a while, and neither of them.</summary>
/// <remarks>A tone repeats at half and a third of its period too where its even harmonics, or every third, outweigh the others. So an octave or
/// a twelfth over a note is told only where a partial was to change and where the note itself, while it stands, repeats far worse there
/// than what was caught; in between it is left open.</remarks>
/// <param name="fine">The sound.</param>
/// <param name="curve">Pitch and level through the change.</param>
/// <param name="a">The note before.</param>
/// <param name="b">The note after.</param>
/// <param name="boundary">About when one gives way to the other, seconds.</param>
internal sealed class CaughtFinder(FinePitch fine, ChangeCurve curve, SteadyNote a, SteadyNote b, double boundary)
{
    private const double AtLeast = 0.03;
    private const double Furthest = 0.25;
    private const float Periodic = 0.85f;

    // The arm carries a caught partial along while it moves, no further than this, cents.
    private const double MostCarried = 120;

    // Cents about an octave or a twelfth, and about a note itself.
    private const double About = 60;
    private const double AboutNote = 90;

    // What was caught repeats at its own period so well, measured by how well at the note's; the note, while it stands, no better than
    // the first figure for it to be told, than the second to be left open.
    private const double Whole = 0.96;
    private const double ClearlyLess = 0.75;
    private const double Less = 0.92;

    /// <summary>What was caught.</summary>
    /// <param name="Hz">Its pitch.</param>
    /// <param name="Time">Middle, seconds.</param>
    /// <param name="MayBeNote">Whether a note's own sound may have been taken for it.</param>
    public readonly record struct Held(double Hz, double Time, bool MayBeNote);

    /// <summary>The longest such pitch; null where there is none.</summary>
    /// <param name="carried">Readings that are a note on its way, see <see cref="CarriedWays"/>.</param>
    /// <param name="mayBreak">Whether a partial was to change.</param>
    public Held? Find(bool[] carried, bool mayBreak)
    {
        if (Longest(i => !carried[i] && Off(curve.Hz[i], a.Hz) && Off(curve.Hz[i], b.Hz)) is { } held) return new(curve.Hz[held], curve.Time(held), false);
        return mayBreak ? Over(a, b, carried) ?? Over(b, a, carried) : null;
    }

    private Held? Over(SteadyNote note, SteadyNote other, bool[] carried)
    {
        foreach (var times in (ReadOnlySpan<int>)[2, 3])
        {
            var hz = times * note.Hz;
            if (Longest(i => !carried[i] && Cents(curve.Hz[i], hz) <= About && Cents(curve.Hz[i], other.Hz) > AboutNote) is not { } at) continue;
            var within = Share(curve.Time(at), times, curve.Hz[at]);
            var alone = Standing(note, other, times);
            if (within >= Whole && alone < Less) return new(curve.Hz[at], curve.Time(at), alone >= ClearlyLess);
        }

        return null;
    }

    // The best of several moments of a standing note.
    private double Standing(SteadyNote note, SteadyNote other, int times)
    {
        const double Apart = 0.02;
        var best = -1.0;
        for (var k = 1; k <= 5; k++)
        {
            var t = note.From < other.From ? note.To - (k * Apart) : note.From + (k * Apart);
            if (t > note.From && t < note.To) best = Math.Max(best, Share(t, times, times * note.Hz));
        }

        return best < 0 ? 1 : best;
    }

    // How well a moment repeats at a pitch, measured by how well at the pitch so many times lower.
    private double Share(double time, int times, double hz)
    {
        const double Spread = 1.03;
        var window = times / hz;
        var upper = fine.At(time, hz / Spread, hz * Spread, window).Strength;
        var lower = fine.At(time, hz / times / Spread, hz / times * Spread, window).Strength;
        return lower <= 0 ? 0 : upper / lower;
    }

    private int? Longest(Func<int, bool> other)
    {
        var (best, length, start, last) = (0, 0, -1, -1);
        var heardFrom = Math.Min(a.Db, b.Db) - ChangeMeter.Silent;
        for (var i = 0; i < curve.Count; i++)
        {
            if (!(curve.Hz[i] > 0 && curve.Strength[i] > Periodic && Math.Abs(curve.Time(i) - boundary) < Furthest)) continue;
            if (curve.Db[i] < heardFrom || !other(i)) continue;
            if (!(start >= 0 && CarriedWays.GoesOn(curve, last, i) && Cents(curve.Hz[i], curve.Hz[start]) <= MostCarried)) start = i;
            last = i;
            if (last - start > length) (length, best) = (last - start, (last + start) / 2);
        }

        return length * FinePitch.Hop >= AtLeast ? best : null;
    }

    private static double Cents(double hz, double other) => Math.Abs(1200 * Math.Log2(hz / other));

    // An octave or a twelfth off may be a slip of the ear, not of the lips.
    private static bool Off(double hz, double note)
    {
        var cents = Cents(hz, note);
        return cents > AboutNote && Math.Abs(cents - 1200) > About && Math.Abs(cents - 1902) > About;
    }
}
