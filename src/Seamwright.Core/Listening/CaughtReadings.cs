namespace Seamwright.Core.Listening;

/// <summary>What one reading of a change may be.</summary>
internal enum CaughtKind
{
    /// <summary>One of the notes, or nothing that can be heard.</summary>
    None,

    /// <summary>Another pitch.</summary>
    Other,

    /// <summary>Two or three times the pitch of a note, or of what the reading itself says.</summary>
    Over,

    /// <summary>A half or a third of a note's pitch.</summary>
    Under,
}

/// <summary>Which readings of a change are neither of its notes, and what pitch they have, further up and down than the way from note to note is looked for.</summary>
/// <remarks>A pitch above that range is read there as a half or a third of itself: whatever repeats sooner as well is read again higher up. One below
/// it repeats at none of the lags looked at: a stretch that is heard and has no period is read again further down. Two notes that sound together
/// repeat at what both are multiples of, so that is never a third one.</remarks>
/// <param name="fine">The sound.</param>
/// <param name="curve">Pitch and level through the change.</param>
/// <param name="a">The note before.</param>
/// <param name="b">The note after.</param>
/// <param name="carried">Readings that are a note on its way, see <see cref="CarriedWays"/>.</param>
/// <param name="rings">Whether the old note rings on in the new one: an upper partial of its may lie near one of the half or third of the new note, and no other.</param>
/// <param name="counts">Which readings are heard, and near enough.</param>
internal sealed class CaughtReadings(FinePitch fine, ChangeCurve curve, SteadyNote a, SteadyNote b, bool[] carried, bool rings, Func<int, bool> counts)
{
    private const float Periodic = 0.85f;

    // Cents about an octave or a twelfth, and about a note itself.
    private const double About = 60;
    private const double AboutNote = 90;

    // What was caught repeats at its own period so well, measured by how well at the note's; the note, while it stands, no better than
    // the first figure for it to be told, than the second to be left open.
    private const double Whole = 0.96;
    private const double ClearlyLess = 0.75;
    private const double Less = 0.92;

    // dB below the softer note: what is read again further down is a note, not the room's hum.
    private const double Louder = 9;

    // Readings of the curve from one that is read again to the next.
    private const int Every = 2 * ChangeMeter.PitchEvery;

    private readonly CaughtKind[] kinds = new CaughtKind[curve.Count];
    private readonly double[] hz = new double[curve.Count];
    private readonly int[] times = new int[curve.Count];
    private readonly double[,] alone = new double[2, 4];

    public CaughtKind Kind(int i) => kinds[i];

    public double Hz(int i) => hz[i];

    /// <summary>Reads the whole change.</summary>
    /// <param name="mayBreak">Whether a partial was to change; else octaves and twelfths off a note are its own sound.</param>
    public CaughtReadings Of(bool mayBreak)
    {
        for (var i = 0; i < curve.Count; i++) Read(i, mayBreak);
        if (mayBreak) Lower();
        return this;
    }

    /// <summary>Whether a reading that was not a note may be one's own sound after all; null where it is.</summary>
    public bool? Standing(int i) => kinds[i] switch
    {
        CaughtKind.Over => Share(curve.Time(i), times[i], hz[i]) < Whole ? null : Open(Alone(times[i], hz[i])),
        CaughtKind.Under => Share(curve.Time(i), times[i], times[i] * hz[i]) >= ClearlyLess ? null : rings || Own(times[i], hz[i]) < Less,
        _ => false,
    };

    private static bool? Open(double repeats) => repeats >= Less ? null : repeats >= ClearlyLess;

    // How well the note so many times higher repeats at its own period while it stands, at the worst of several moments.
    private double Own(int by, double pitch)
    {
        var note = Cents(by * pitch, a.Hz) <= About ? a : b;
        return Moments(note, note.From < (note == a ? b : a).From).Select(t => Share(t, by, note.Hz)).DefaultIfEmpty(0).Min();
    }

    private void Read(int i, bool mayBreak)
    {
        if (!counts(i) || !(curve.Hz[i] > 0 && curve.Strength[i] > Periodic)) return;
        if (mayBreak && (i % Every == 0 ? Higher(i) : i > 0 && kinds[i - 1] == CaughtKind.Over && curve.Hz[i] * times[i - 1] is var same && Cents(same, hz[i - 1]) < About ? times[i - 1] : 0) is > 0 and var higher) Set(i, CaughtKind.Over, higher * curve.Hz[i], higher);
        else if (carried[i] || Cents(curve.Hz[i], a.Hz) <= AboutNote || Cents(curve.Hz[i], b.Hz) <= AboutNote) return;
        else if (Multiple(curve.Hz[i]) is > 0 and var over) Set(i, mayBreak ? CaughtKind.Over : CaughtKind.None, curve.Hz[i], over);
        else if (Part(curve.Hz[i]) is > 0 and var under) Set(i, mayBreak && !IsOfBoth(curve.Hz[i]) ? CaughtKind.Under : CaughtKind.None, curve.Hz[i], under);
        else Set(i, CaughtKind.Other, curve.Hz[i], 1);
    }

    private void Set(int i, CaughtKind kind, double pitch, int by) => (kinds[i], hz[i], times[i]) = (kind, pitch, by);

    // How many times higher the pitch really is, beyond what was looked at; 0 where it is not.
    private int Higher(int i)
    {
        foreach (var by in (ReadOnlySpan<int>)[2, 3])
        {
            var upper = by * curve.Hz[i];
            if (upper <= ChangeMeter.HighestShare * Math.Max(a.Hz, b.Hz) || Cents(upper, a.Hz) <= AboutNote || Cents(upper, b.Hz) <= AboutNote) continue;
            if (Share(curve.Time(i), by, upper, Whole * Periodic) >= Whole && Alone(by, upper) < Less) return by;
        }

        return 0;
    }

    // Stretches that are heard and repeat at no lag so far.
    private void Lower()
    {
        const int Readings = 30;
        var heardFrom = Math.Min(a.Db, b.Db) - Louder;
        for (var (i, start) = (0, -1); i <= curve.Count; i++)
        {
            if (i < curve.Count && counts(i) && curve.Db[i] >= heardFrom && curve.Strength[i] <= Periodic) start = start < 0 ? i : start;
            else if (start >= 0)
            {
                if (i - start >= Readings) for (var k = start; k < i; k++) ReadLower(k);
                start = -1;
            }
        }
    }

    private void ReadLower(int i)
    {
        if (i % Every != 0)
        {
            if (i > 0 && kinds[i - 1] is CaughtKind.Other or CaughtKind.Under) Set(i, kinds[i - 1], hz[i - 1], times[i - 1]);
            return;
        }

        var most = ChangeMeter.LowestShare * Math.Min(a.Hz, b.Hz);
        var found = fine.At(curve.Time(i), most / 2, 1.02 * most, 2 / most);
        if (found.Hz <= 0 || found.Strength <= Periodic || IsOfBoth(found.Hz)) return;
        if (rings && Part(found.Hz) is > 0 and var under) Set(i, CaughtKind.Under, found.Hz, under);
        else Set(i, CaughtKind.Other, found.Hz, 1);
    }

    // Two notes that sound together repeat at what both are multiples of.
    private bool IsOfBoth(double pitch) => IsMultiple(a.Hz / pitch) && IsMultiple(b.Hz / pitch);

    private static bool IsMultiple(double times) => times > 0.9 && Cents(times, Math.Round(times)) < About;

    private int Multiple(double pitch) => Cents(pitch, 2 * a.Hz) <= About || Cents(pitch, 2 * b.Hz) <= About ? 2 : Cents(pitch, 3 * a.Hz) <= About || Cents(pitch, 3 * b.Hz) <= About ? 3 : 0;

    private int Part(double pitch) => Cents(2 * pitch, a.Hz) <= About || Cents(2 * pitch, b.Hz) <= About ? 2 : Cents(3 * pitch, a.Hz) <= About || Cents(3 * pitch, b.Hz) <= About ? 3 : 0;

    // The note that lies so many times lower, or the better of both.
    private double Alone(int by, double pitch)
    {
        var (first, second) = (Cents(pitch, by * a.Hz) <= About, Cents(pitch, by * b.Hz) <= About);
        return Math.Max(second && !first ? 0 : Alone(ref alone[0, by], a, b, by), first && !second ? 0 : Alone(ref alone[1, by], b, a, by));
    }

    // At the best of several moments while it stands.
    private double Alone(ref double known, SteadyNote note, SteadyNote other, int by)
    {
        if (known > 0) return known;
        return known = Moments(note, note.From < other.From).Select(t => Share(t, by, by * note.Hz)).DefaultIfEmpty(1).Max() is var best and > 0.01 ? best : 0.01;
    }

    // While a note stands, near the change.
    private static IEnumerable<double> Moments(SteadyNote note, bool isFirst)
    {
        const double Apart = 0.02;
        for (var k = 1; k <= 5; k++)
        {
            var t = isFirst ? note.To - (k * Apart) : note.From + (k * Apart);
            if (t > note.From && t < note.To) yield return t;
        }
    }

    // How well a moment repeats at a pitch, measured by how well at the pitch so many times lower; 0 where it does not repeat at least so well.
    private double Share(double time, int by, double pitch, double least = 0)
    {
        const double Spread = 1.03;
        var window = by / pitch;
        var upper = fine.At(time, pitch / Spread, pitch * Spread, window).Strength;
        if (upper <= least) return 0;
        var lower = fine.At(time, pitch / by / Spread, pitch / by * Spread, window).Strength;
        return lower <= 0 ? 0 : upper / lower;
    }

    private static double Cents(double pitch, double other) => Math.Abs(1200 * Math.Log2(pitch / other));
}
