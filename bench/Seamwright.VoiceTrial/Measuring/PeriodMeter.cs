using System.Numerics;

namespace Seamwright.VoiceTrial.Measuring;

/// <summary>Pitch out of samples by normalised correlation, independent of the listener's.</summary>
internal static class PeriodMeter
{
    /// <summary>Pitch of a steady stretch from as many periods as it holds.</summary>
    /// <param name="samples">At least four periods of the lowest pitch.</param>
    /// <param name="rate">Samples a second.</param>
    /// <param name="low">Lowest pitch, Hz.</param>
    /// <param name="high">Highest pitch, Hz.</param>
    /// <returns>Hz, or null where nothing repeats (correlation below 0.9).</returns>
    public static double? Steady(ReadOnlySpan<float> samples, double rate, double low, double high)
    {
        var longest = Math.Min((int)(rate / low) + 2, samples.Length / 3);
        if (Shortest(samples, (int)(rate / high), longest, Math.Min(samples.Length - longest - 2, 2 * longest), 0.9) is not { } period) return null;
        for (var periods = 2; periods * period < 0.5 * samples.Length; periods *= 2)
        {
            var lag = (int)Math.Round(periods * period);
            var reach = Math.Max(2, (int)(period * 0.05));
            period = Best(samples, lag - reach, lag + reach, samples.Length - lag - reach - 2) / periods;
        }

        return rate / period;
    }

    /// <summary>Pitch round one moment, the window two stretches of <paramref name="width"/> samples.</summary>
    public static double? At(ReadOnlySpan<float> samples, int centre, int width, double rate, double low, double high, double least = 0.5)
    {
        var longest = (int)(rate / low) + 2;
        var first = centre - ((width + longest) / 2);
        if (first < 0 || first + width + longest + 2 > samples.Length) return null;
        return Shortest(samples.Slice(first, width + longest + 2), (int)(rate / high), longest, width, least) is { } p ? rate / p : null;
    }

    // The shortest lag that repeats nearly as well as the best.
    private static double? Shortest(ReadOnlySpan<float> x, int shortest, int longest, int width, double least)
    {
        Span<double> r = stackalloc double[longest + 2];
        var best = 0.0;
        for (var lag = Math.Max(2, shortest) - 1; lag <= longest + 1; lag++) r[lag] = Correlation(x, lag, width);
        for (var lag = Math.Max(2, shortest); lag <= longest; lag++) best = Math.Max(best, r[lag]);
        if (best < least) return null;
        for (var lag = Math.Max(2, shortest); lag <= longest; lag++)
        {
            if (r[lag] >= 0.95 * best && r[lag] >= r[lag - 1] && r[lag] >= r[lag + 1]) return lag + Vertex(r[lag - 1], r[lag], r[lag + 1]);
        }

        return null;
    }

    private static double Best(ReadOnlySpan<float> x, int from, int to, int width)
    {
        var (at, best) = (from, double.MinValue);
        for (var lag = from; lag <= to; lag++)
        {
            var c = Correlation(x, lag, width);
            if (c > best) (at, best) = (lag, c);
        }

        return at + Vertex(Correlation(x, at - 1, width), best, Correlation(x, at + 1, width));
    }

    private static double Vertex(double a, double b, double c) => a - (2 * b) + c < 0 ? 0.5 * (a - c) / (a - (2 * b) + c) : 0;

    private static double Correlation(ReadOnlySpan<float> x, int lag, int width)
    {
        var a = x[..width];
        var b = x.Slice(lag, width);
        var energy = (double)Dot(a, a) * Dot(b, b);
        return energy > 1e-20 ? Dot(a, b) / Math.Sqrt(energy) : 0;
    }

    private static float Dot(ReadOnlySpan<float> a, ReadOnlySpan<float> b)
    {
        var sum = Vector<float>.Zero;
        var i = 0;
        for (; i <= a.Length - Vector<float>.Count; i += Vector<float>.Count) sum += new Vector<float>(a[i..]) * new Vector<float>(b[i..]);
        var rest = Vector.Sum(sum);
        for (; i < a.Length; i++) rest += a[i] * b[i];
        return rest;
    }
}
