namespace Seamwright.Core.Listening;

/// <summary>Pitch of every frame in a long window: safe from octave errors, blurred at note changes.</summary>
/// <remarks>One path through the frames' candidates (Viterbi): shorter periods and pitches of the part are preferred, leaps cost.
/// Inside this class and its readers 0 Hz stands for "no pitch".</remarks>
internal sealed class RoughTrack
{
    private const double OctaveLeap = 0.25;
    private const double VoiceTurn = 0.15;
    private const double Unvoiced = 0.45;

    // A period repeats at its multiples too; each doubling must be worth this much correlation.
    private const double LongerByOctave = 0.1;
    private const double OutsidePart = 0.2;

    private readonly Candidate[] candidates;

    private RoughTrack(Candidate[] candidates, double[] hz, float[] strength, double[] db, bool[] silent)
    {
        this.candidates = candidates;
        Hz = hz;
        Strength = strength;
        Db = db;
        Silent = silent;
    }

    public double[] Hz { get; }

    /// <summary>Correlation of the chosen period.</summary>
    public float[] Strength { get; }

    /// <summary>Level in the ear's window.</summary>
    public double[] Db { get; }

    public bool[] Silent { get; }

    public int Count => Hz.Length;

    /// <summary>All candidates of a frame, the strongest first.</summary>
    public ReadOnlySpan<Candidate> At(int frame) => candidates.AsSpan(frame * PeriodFinder.Kept, PeriodFinder.Kept);

    /// <param name="samples">At <see cref="PeriodFinder.Rate"/>.</param>
    /// <param name="energy">Of the same sound.</param>
    /// <param name="hop">Seconds between frames; frame 0 lies at time 0.</param>
    /// <param name="expected">Pitches of the part in Hz.</param>
    /// <param name="settings">Range and silence.</param>
    public static RoughTrack Of(ReadOnlySpan<float> samples, Energy energy, double hop, double[] expected, ListeningSettings settings)
    {
        var step = (int)Math.Round(hop * PeriodFinder.Rate);
        var count = (samples.Length / step) + 1;
        var found = Find(samples, step, count, settings);
        var db = Levels(energy, hop, count, settings.EarWindow.Value);
        var silent = Silences(db, settings.SilenceBelowPeak.Value);
        var chosen = Path(found, silent, expected);
        var hz = new double[count];
        var strength = new float[count];
        for (var i = 0; i < count; i++)
        {
            if (chosen[i] < 0) continue;
            var c = found[(i * PeriodFinder.Kept) + chosen[i]];
            (hz[i], strength[i]) = (c.Hz, c.Strength);
        }

        for (var i = 0; i < count; i++)
        {
            if (hz[i] > 0) db[i] = energy.Db(i * hop, Energy.Window(settings.EarWindow.Value, 1 / hz[i]));
        }

        return new(found, hz, strength, db, silent);
    }

    private static Candidate[] Find(ReadOnlySpan<float> samples, int step, int count, ListeningSettings settings)
    {
        var finder = new PeriodFinder(settings.Lowest.Value, settings.Highest.Value);
        var found = new Candidate[(count + 1) * PeriodFinder.Kept];
        Span<float> first = stackalloc float[PeriodFinder.Block];
        Span<float> second = stackalloc float[PeriodFinder.Block];
        for (var i = 0; i < count; i += 2)
        {
            Cut(samples, (i * step) - (PeriodFinder.Block / 2), first);
            Cut(samples, ((i + 1) * step) - (PeriodFinder.Block / 2), second);
            finder.Process(first, second, found.AsSpan(i * PeriodFinder.Kept, PeriodFinder.Kept), found.AsSpan((i + 1) * PeriodFinder.Kept, PeriodFinder.Kept));
        }

        return found;
    }

    private static void Cut(ReadOnlySpan<float> samples, int from, Span<float> block)
    {
        block.Clear();
        var start = Math.Max(0, from);
        var end = Math.Min(samples.Length, from + block.Length);
        if (end > start) samples[start..end].CopyTo(block[(start - from)..]);
    }

    private static double[] Levels(Energy energy, double hop, int count, double window)
    {
        var db = new double[count];
        for (var i = 0; i < count; i++) db[i] = energy.Db(i * hop, Math.Max(window, 0.02));
        return db;
    }

    private static bool[] Silences(double[] db, double below)
    {
        const double QuietestTone = -75;
        var sorted = db.Order().ToArray();
        var loud = sorted[(int)(0.98 * (sorted.Length - 1))];
        var limit = Math.Max(QuietestTone, loud - below);
        return [.. db.Select(d => d < limit)];
    }

    private static int[] Path(Candidate[] found, bool[] silent, double[] expected)
    {
        const int States = PeriodFinder.Kept + 1;
        var count = silent.Length;
        var from = new sbyte[count * States];
        Span<double> cost = stackalloc double[States];
        Span<double> next = stackalloc double[States];
        Span<double> octaves = stackalloc double[PeriodFinder.Kept];
        Span<double> before = stackalloc double[PeriodFinder.Kept];
        cost.Clear();
        for (var i = 0; i < count; i++)
        {
            var here = found.AsSpan(i * PeriodFinder.Kept, PeriodFinder.Kept);
            for (var j = 0; j < here.Length; j++) octaves[j] = here[j].Strength > 0 ? Math.Log2(here[j].Hz) : double.NaN;
            for (var j = 0; j < States; j++)
            {
                var (best, who) = Cheapest(cost, before, octaves, j, i == 0);
                next[j] = best + Emission(here, octaves, j, silent[i], expected);
                from[(i * States) + j] = (sbyte)who;
            }

            next.CopyTo(cost);
            octaves.CopyTo(before);
        }

        return Back(from, cost, count);
    }

    private static (double Cost, int From) Cheapest(ReadOnlySpan<double> cost, ReadOnlySpan<double> before, ReadOnlySpan<double> octaves, int to, bool first)
    {
        if (first) return (0, 0);
        var voicedTo = to < octaves.Length;
        if (voicedTo && double.IsNaN(octaves[to])) return (0, octaves.Length);
        var best = (Cost: cost[^1] + (voicedTo ? VoiceTurn : 0), From: octaves.Length);
        for (var k = 0; k < octaves.Length; k++)
        {
            if (double.IsNaN(before[k])) continue;
            var c = cost[k] + (voicedTo ? OctaveLeap * Math.Abs(octaves[to] - before[k]) : VoiceTurn);
            if (c < best.Cost) best = (c, k);
        }

        return best;
    }

    private static double Emission(ReadOnlySpan<Candidate> here, ReadOnlySpan<double> octaves, int state, bool silent, double[] expected)
    {
        if (state == here.Length) return silent ? 0 : Unvoiced;
        if (here[state].Strength <= 0) return 1e6;
        var highest = double.NegativeInfinity;
        foreach (var o in octaves) highest = o > highest ? o : highest;
        return 1 - here[state].Strength + (LongerByOctave * (highest - octaves[state]))
            + (silent ? 0.5 : 0) + (InPart(here[state].Hz, expected) ? 0 : OutsidePart);
    }

    private static bool InPart(double hz, double[] expected)
    {
        if (expected.Length == 0) return true;
        foreach (var e in expected)
        {
            if (hz > e * 0.94 && hz < e * 1.06) return true;
        }

        return false;
    }

    private static int[] Back(sbyte[] from, ReadOnlySpan<double> cost, int count)
    {
        var states = cost.Length;
        var state = 0;
        for (var j = 1; j < states; j++)
        {
            if (cost[j] < cost[state]) state = j;
        }

        var chosen = new int[count];
        for (var i = count - 1; i >= 0; i--)
        {
            chosen[i] = state == states - 1 ? -1 : state;
            state = from[(i * states) + state];
        }

        return chosen;
    }
}
