namespace Seamwright.Tests.Sound;

/// <summary>Reads figures off samples without any of the code that made them.</summary>
internal static class SoundProbe
{
    /// <summary>Root mean square in dB against full scale over a window around a time.</summary>
    public static double LevelDb(ReadOnlySpan<float> samples, double rate, double centre, double width)
    {
        var part = Around(samples, rate, centre, width);
        var sum = 0.0;
        foreach (var x in part) sum += (double)x * x;
        return 10 * Math.Log10(sum / part.Length);
    }

    /// <summary>Frequency near a guess, from the lag at which the sound repeats best (normalised correlation, parabola through the top).</summary>
    public static double Frequency(ReadOnlySpan<float> samples, double rate, double centre, double guess, int periods = 2)
    {
        var middle = (int)(rate / guess);
        var (best, at) = (double.MinValue, 0);
        for (var lag = (int)(middle * 0.8); lag <= middle * 1.25; lag++)
        {
            var r = Correlation(samples, rate, centre, lag, periods);
            if (r > best) (best, at) = (r, lag);
        }

        double a = Correlation(samples, rate, centre, at - 1, periods), c = Correlation(samples, rate, centre, at + 1, periods);
        return rate / (at + (0.5 * (a - c) / (a - (2 * best) + c)));
    }

    /// <summary>Normalised correlation of neighbouring periods around a time, at its best lag within a semitone or so of the guess.</summary>
    public static double Periodicity(ReadOnlySpan<float> samples, double rate, double centre, double lowest, double highest)
    {
        var best = 0.0;
        for (var lag = (int)(rate / highest * 0.97); lag <= rate / lowest * 1.03; lag++) best = Math.Max(best, Correlation(samples, rate, centre, lag, 1));
        return best;
    }

    private static double Correlation(ReadOnlySpan<float> samples, double rate, double centre, int lag, int periods)
    {
        var length = lag * periods;
        var start = (int)(centre * rate) - ((length + lag) / 2);
        var a = samples.Slice(start, length);
        var b = samples.Slice(start + lag, length);
        double ab = 0, aa = 0, bb = 0;
        for (var i = 0; i < length; i++)
        {
            ab += a[i] * b[i];
            aa += a[i] * a[i];
            bb += b[i] * b[i];
        }

        return ab / Math.Sqrt(aa * bb);
    }

    private static ReadOnlySpan<float> Around(ReadOnlySpan<float> samples, double rate, double centre, double width) =>
        samples.Slice((int)((centre - (width / 2)) * rate), (int)(width * rate));
}
