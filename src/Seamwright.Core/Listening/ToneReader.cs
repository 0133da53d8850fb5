using Seamwright.Core.Units;

namespace Seamwright.Core.Listening;

/// <summary>What a held tone does: drift, vibrato, brightness, noise.</summary>
internal static class ToneReader
{
    private const double Hop = LiveEar.Hop;

    // Vibrato of brass: 4 to 8 Hz (Sundberg 1994, common practice for brass). Two swings must fit into the note.
    private const double Slowest = 4;
    private const double Fastest = 8;
    private const double Swings = 2;
    private const double LeastExtent = 4;
    private const double LeastShare = 0.5;

    private const double HighestPartial = 5000;
    private const double BrightWindow = 0.06;
    private const double PitchFloor = 0.8;

    public static HeardNote Add(HeardNote heard, SteadyNote note, RoughTrack track, SampleStore samples)
    {
        var frames = FramesOf(note, track);
        heard = heard with { Brightness = Brightness(note, samples) };
        if (frames.Length < 8) return heard;
        var (times, cents) = CourseOf(frames, note, track);
        var (intercept, slope) = MathNet.Numerics.LinearRegression.SimpleRegression.Fit(times, cents);
        var rest = cents.Select((c, i) => c - intercept - (slope * times[i])).ToArray();
        var vibrato = VibratoOf(times, cents);
        var strength = frames.Select(i => (double)track.Strength[i]).Order().ElementAt(frames.Length / 2);
        var drift = slope * (note.To - note.From);
        return heard with
        {
            Drift = new(drift),
            DriftBounds = DriftAround(drift, rest),
            Vibrato = vibrato,
            CentsBounds = BoundsOf(heard.Cents!.Value.Value, rest, note.To - note.From),
            ToneToNoise = new(10 * Math.Log10(Math.Clamp(strength, 0.01, 0.9999) / (1 - Math.Clamp(strength, 0.01, 0.9999)))),
        };
    }

    /// <summary>A note's pitch against its own median: times in seconds, and cents.</summary>
    /// <param name="note">Its steady part.</param>
    /// <param name="track">The recording's pitch.</param>
    public static (double[] Times, double[] Cents) CourseOf(SteadyNote note, RoughTrack track) => CourseOf(FramesOf(note, track), note, track);

    private static (double[] Times, double[] Cents) CourseOf(int[] frames, SteadyNote note, RoughTrack track) =>
        ([.. frames.Select(i => i * Hop)], [.. frames.Select(i => 1200 * Math.Log2(track.Hz[i] / note.Hz))]);

    private static int[] FramesOf(SteadyNote note, RoughTrack track) =>
    [
        .. Enumerable.Range((int)Math.Ceiling(note.From / Hop), Math.Max(0, (int)((note.To - note.From) / Hop)))
            .Where(i => i < track.Count && track.Hz[i] > 0 && Math.Abs(Math.Log2(track.Hz[i] / note.Hz)) < 0.06),
    ];

    private static Bounds<Cents> BoundsOf(double cents, double[] rest, double seconds)
    {
        const double Window = 0.05;
        var deviation = Math.Sqrt(rest.Average(r => r * r) / Math.Max(1, seconds / Window));
        var reach = Bounding.Reach(deviation, PitchFloor, 0);
        return new(new(cents - reach), new(cents + reach));
    }

    // A slope over n independent readings of deviation σ, evenly spaced, is known to σ·√12/√n of its whole way (least squares). Neighbouring
    // frames share most of their window, and where the pitch does anything but drift evenly what is left over holds together for longer
    // still: n windows are worth n·(1 − ρ)/(1 + ρ), ρ between neighbouring ones (Bartlett, Suppl. J. R. Stat. Soc. 8 (1946), first order).
    private static Bounds<Cents> DriftAround(double drift, double[] rest)
    {
        const int FramesAWindow = 10;
        var apart = Math.Min(FramesAWindow, rest.Length / 2);
        var power = rest.Sum(r => r * r);
        var alike = power <= 1e-9 ? 0 : Math.Max(0, Enumerable.Range(apart, rest.Length - apart).Sum(i => rest[i] * rest[i - apart]) / power);
        var worth = Math.Max(1, (double)rest.Length / apart * (1 - alike) / (1 + alike));
        var reach = Bounding.Reach(Math.Sqrt(12 * power / rest.Length / worth), PitchFloor, 0);
        return new(new(drift - reach), new(drift + reach));
    }

    // Nobody swings so evenly that one sine stays in step with it for long, nor about one straight line: every two swings have their own of both.
    private static Vibrato? VibratoOf(double[] times, double[] cents)
    {
        if (times[^1] - times[0] < Swings / Slowest) return null;
        var (rate, extent, share) = (0.0, 0.0, 0.0);
        for (var hz = Slowest - 0.5; hz <= Fastest + 0.5; hz += 0.1)
        {
            var (amplitude, explained) = Swinging(times, cents, hz);
            if (explained > share) (rate, extent, share) = (hz, amplitude, explained);
        }

        return share >= LeastShare && extent >= LeastExtent && rate is >= Slowest and <= Fastest ? new(new(rate), new(ExtentOf(times, cents, rate))) : null;
    }

    // Half of what lies between a swing's extremes, the mean of all swings (Prame, JASA 102 (1997), from memory); those of less than half the usual size are the note's
    // own beginning or end, which may stand still.
    private static double ExtentOf(double[] times, double[] cents, double rate)
    {
        const int Smoothed = 5;
        var smooth = Enumerable.Range(0, cents.Length - Smoothed + 1).Select(i => cents.AsSpan(i, Smoothed).ToArray().Average()).ToArray();
        var swings = Enumerable.Range(0, Math.Max(1, (int)((times[^1] - times[0]) * rate))).ToArray();
        var frames = smooth.Length / swings.Length;
        double[] halves = [.. swings.Select(k => smooth.AsSpan(k * smooth.Length / swings.Length, frames).ToArray()).Select(s => (s.Max() - s.Min()) / 2).Order()];
        var least = halves[halves.Length * 3 / 4] / 2;

        // What the smoothing takes of a sine.
        var half = Math.PI * rate * Smoothed * Hop;
        return halves.Where(h => h >= least).Average() * half / Math.Sin(half);
    }

    private static (double Amplitude, double Share) Swinging(double[] times, double[] cents, double hz)
    {
        var amplitudes = new double[Math.Max(1, (int)((times[^1] - times[0]) * hz / Swings))];
        var (explained, all) = (0.0, 1e-9);
        for (var k = 0; k < amplitudes.Length; k++)
        {
            var (from, to) = (k * times.Length / amplitudes.Length, (k + 1) * times.Length / amplitudes.Length);
            (amplitudes[k], var part, var power) = Sinusoid(times.AsSpan(from, to - from), cents.AsSpan(from, to - from), hz);
            (explained, all) = (explained + part, all + power);
        }

        return (OrderStatistic.Median(amplitudes), explained / all);
    }

    // Least squares with sine and cosine beside a straight line: what of each lies along the line is taken out of the normal equations.
    private static (double Amplitude, double Explained, double All) Sinusoid(ReadOnlySpan<double> times, ReadOnlySpan<double> cents, double hz)
    {
        var middle = (times[0] + times[^1]) / 2;
        var (n, t1, tt, s1, c1, y1, st, ct, yt) = ((double)times.Length, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
        var (ss, cc, sc, ys, yc, yy) = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
        for (var i = 0; i < times.Length; i++)
        {
            var (t, y) = (times[i] - middle, cents[i]);
            var (s, c) = Math.SinCos(2 * Math.PI * hz * t);
            (t1, tt, s1, c1, y1) = (t1 + t, tt + (t * t), s1 + s, c1 + c, y1 + y);
            (st, ct, yt) = (st + (s * t), ct + (c * t), yt + (y * t));
            (ss, cc, sc, ys, yc, yy) = (ss + (s * s), cc + (c * c), sc + (s * c), ys + (y * s), yc + (y * c), yy + (y * y));
        }

        var along = Math.Max(1e-12, tt - (t1 * t1 / n));
        double Rest(double product, double a1, double at, double b1, double bt) => product - (a1 * b1 / n) - ((at - (a1 * t1 / n)) * (bt - (b1 * t1 / n)) / along);
        (ss, cc, sc) = (Rest(ss, s1, st, s1, st), Rest(cc, c1, ct, c1, ct), Rest(sc, s1, st, c1, ct));
        (ys, yc, yy) = (Rest(ys, y1, yt, s1, st), Rest(yc, y1, yt, c1, ct), Rest(yy, y1, yt, y1, yt));
        var determinant = (ss * cc) - (sc * sc);
        if (determinant <= 1e-9) return (0, 0, yy);
        var (a, b) = (((ys * cc) - (yc * sc)) / determinant, ((yc * ss) - (ys * sc)) / determinant);
        return (Math.Sqrt((a * a) + (b * b)), (a * ys) + (b * yc), yy);
    }

    private static double? Brightness(SteadyNote note, SampleStore samples) =>
        BrightnessAt(samples, (note.From + note.To) / 2, WindowOf(note), note.Hz);

    /// <summary>Power-weighted mean frequency over the pitch: each partial's power through a raised-cosine window.</summary>
    /// <param name="samples">The recording.</param>
    /// <param name="time">Middle of the window, seconds.</param>
    /// <param name="length">Of the window, seconds.</param>
    /// <param name="hz">The pitch.</param>
    /// <returns>Null where the window is shorter than three periods, or silent.</returns>
    public static double? BrightnessAt(SampleStore samples, double time, double length, double hz)
    {
        var powers = PowersAt(samples, time, length, hz);
        return powers.Sum() is > 0 and var total ? powers.Select((p, i) => (i + 1) * p).Sum() / total : null;
    }

    /// <summary>How many partials bear the level, as independent ones of equal power would: (Σp)²/Σp² (participation ratio).</summary>
    /// <param name="note">At least three periods long.</param>
    /// <param name="samples">The recording.</param>
    /// <returns>1 or more.</returns>
    public static double PartialsOf(SteadyNote note, SampleStore samples)
    {
        var powers = PowersAt(samples, (note.From + note.To) / 2, WindowOf(note), note.Hz);
        return powers.Sum(p => p * p) is > 0 and var squares ? Math.Pow(powers.Sum(), 2) / squares : 1;
    }

    private static double WindowOf(SteadyNote note) => Math.Min(Math.Max(BrightWindow, 6 / note.Hz), note.To - note.From);

    // Of each partial; empty where the window is shorter than three periods.
    private static double[] PowersAt(SampleStore samples, double time, double length, double hz)
    {
        if (length < 3 / hz) return [];
        var block = new float[(int)(length * FinePitch.Rate)];
        samples.CopyTo((long)((time - (length / 2)) * FinePitch.Rate), block);
        for (var i = 0; i < block.Length; i++) block[i] *= (float)(0.5 - (0.5 * Math.Cos(2 * Math.PI * (i + 0.5) / block.Length)));
        return [.. Enumerable.Range(1, Math.Max(0, (int)Math.Ceiling(HighestPartial / hz) - 1)).Select(k => PowerAt(block, k * hz))];
    }

    /// <summary>Square of the sum of a block turned down by a frequency.</summary>
    internal static double PowerAt(float[] block, double hz)
    {
        var (stepSin, stepCos) = Math.SinCos(2 * Math.PI * hz / FinePitch.Rate);
        var (s, c, re, im) = (0.0, 1.0, 0.0, 0.0);
        foreach (var x in block)
        {
            re += x * c;
            im += x * s;
            (s, c) = ((s * stepCos) + (c * stepSin), (c * stepCos) - (s * stepSin));
        }

        return (re * re) + (im * im);
    }
}
