namespace Seamwright.Core.Listening;

/// <summary>The steady part of a note that was found.</summary>
/// <param name="From">Beginning of the steady part, seconds.</param>
/// <param name="To">Its end.</param>
/// <param name="Hz">Its pitch.</param>
/// <param name="Db">Its level in the ear's window.</param>
internal readonly record struct SteadyNote(double From, double To, double Hz, double Db)
{
    /// <summary>How far its own level wanders about that, dB: a standard deviation, 0 where it is not known.</summary>
    public double Sway { get; init; }

    /// <summary>How far its level swings and flickers about its own slow course, dB: a standard deviation, 0 where it is not known.</summary>
    public double Flicker { get; init; }

    /// <summary>How many partials bear its level and sway apart in a room; 1 where they were not counted.</summary>
    public double Partials { get; init; } = 1;

    /// <summary>How far its pitch swings and wanders, cents: a standard deviation, 0 where it is not known.</summary>
    public double PitchSway { get; init; }
}

/// <summary>Measures the steady parts of notes.</summary>
internal sealed class NoteMeter(SampleStore samples, RoughTrack track, double ear)
{
    private const double Hop = LiveEar.Hop;
    private const double Margin = 0.1;

    private readonly Excerpt excerpt = new(samples);

    // Near its ends a note belongs to the changes.
    private const double EdgeShare = 0.22;
    private const double EdgeAtMost = 0.12;

    // Cents between a note's quartiles.
    private const double WideSwing = 45;

    /// <summary>How long the whole of a note is, seconds, by its steady part.</summary>
    public static double WholeOf(SteadyNote note) => note.To - note.From + Math.Min(2 * EdgeAtMost, 2 * EdgeShare / (1 - (2 * EdgeShare)) * (note.To - note.From));

    /// <summary>The steady part of a note; null where nothing periodic is found in it.</summary>
    public SteadyNote? Measure(Stretch stretch, double expected)
    {
        var (from, to) = (stretch.From * Hop, stretch.To * Hop);
        var part = excerpt.Load(from - Margin, to + Margin);
        var (energy, fine) = (part.Energy, part.Fine);
        var edge = Math.Min(EdgeAtMost, EdgeShare * (to - from));
        var (a, b) = (from + edge, to - edge);
        var near = MedianHz((int)Math.Ceiling(a / Hop), (int)Math.Floor(b / Hop), expected);
        if (near <= 0) return null;
        var (found, pitchSway) = MedianOfPieces(fine, a, b, near);
        if (found <= 0 || SoundsHigher(fine, a, b, found)) return null;
        var window = Energy.Window(ear, 1 / found);
        var levels = new List<double>();
        for (var t = a; t <= b; t += Hop) levels.Add(energy.Db(t, window));
        var flicker = Flicker(levels);
        levels.Sort();
        var note = new SteadyNote(a, b, found, levels[levels.Count / 2]) { Sway = Spread(levels), Flicker = flicker, PitchSway = pitchSway };
        return note with { Partials = ToneReader.PartialsOf(note, samples) };
    }

    // The middle half of a normal distribution is 1.349 standard deviations wide.
    private static double Spread(List<double> sorted) => (sorted[3 * sorted.Count / 4] - sorted[sorted.Count / 4]) / 1.349;

    // A reading every 5 ms. What a moment differs by from the mean of those about as far before and after it as a change lasts: swelling and fading leave that the same all
    // along, a swing of vibrato and breath do not. Three readings of equal deviation, two of them halved, differ by √1.5 of it.
    internal static double Flicker(List<double> levels)
    {
        var apart = Math.Min((int)(0.05 / Hop), levels.Count / 3);
        if (apart == 0) return 0;
        var off = Enumerable.Range(apart, levels.Count - (2 * apart)).Select(i => levels[i] - ((levels[i - apart] + levels[i + apart]) / 2)).Order().ToList();
        return Spread(off) / Math.Sqrt(1.5);
    }

    // A tone also repeats at twice and three times its period: then it is a higher note that sounds, not the one that was asked.
    private static bool SoundsHigher(FinePitch fine, double a, double b, double hz)
    {
        var higher = 0;
        foreach (var share in (ReadOnlySpan<double>)[0.25, 0.5, 0.75])
        {
            var c = fine.At(a + (share * (b - a)), 0.95 * hz, 4.2 * hz, 1 / hz);
            if (c.Hz > 1.4 * hz && c.Strength > 0.85f) higher++;
        }

        return higher >= 2;
    }

    private double MedianHz(int from, int to, double expected)
    {
        var near = new List<double>();
        for (var i = Math.Max(0, from); i < Math.Min(track.Count, to + 1); i++)
        {
            if (track.Hz[i] > 0 && Math.Abs(Math.Log2(track.Hz[i] / expected)) < 0.09) near.Add(track.Hz[i]);
        }

        if (near.Count == 0) return expected;
        near.Sort();

        // A wide swing spends most of its time at its turns, and the median is any of them.
        var (low, high) = (near[near.Count / 10], near[near.Count * 9 / 10]);
        return 1200 * Math.Log2(near[near.Count * 3 / 4] / near[near.Count / 4]) > WideSwing ? Math.Sqrt(low * high) : near[near.Count / 2];
    }

    // Pieces of 80 ms: long enough to be exact, short enough that a slow drift or vibrato does not blur them.
    private static (double Hz, double Sway) MedianOfPieces(FinePitch fine, double a, double b, double near)
    {
        const int Fewest = 4;
        var piece = Math.Max(0.08, 5 / near);
        var found = new List<double>();
        for (var t = a; t + Math.Min(piece, b - a) <= b + 1e-9; t += piece / 2)
        {
            var c = fine.Steady(t, t + Math.Min(piece, b - a), near);
            if (c.Strength >= 0.6f && Math.Abs(Math.Log2(c.Hz / near)) < 0.06) found.Add(c.Hz);
            if (b - a <= piece) break;
        }

        if (found.Count == 0) return (0, 0);
        found.Sort();
        var middle = found.Count % 2 == 1 ? found[found.Count / 2] : (found[(found.Count / 2) - 1] + found[found.Count / 2]) / 2;
        return (middle, found.Count < Fewest ? 0 : Spread([.. found.Select(hz => 1200 * Math.Log2(hz / middle))]));
    }
}
