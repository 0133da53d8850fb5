namespace Seamwright.VoiceTrial.Measuring;

/// <summary>Levels against full scale.</summary>
internal static class Levels
{
    /// <summary>Root mean square in dB; −200 for silence.</summary>
    public static double Db(ReadOnlySpan<float> samples)
    {
        var sum = 0.0;
        foreach (var x in samples) sum += x * (double)x;
        return 10 * Math.Log10((sum / Math.Max(1, samples.Length)) + 1e-20);
    }

    /// <summary>Level in a window of <paramref name="width"/> samples round every <paramref name="hop"/>-th sample.</summary>
    public static double[] Track(ReadOnlySpan<float> samples, int width, int hop)
    {
        var track = new double[samples.Length / hop];
        for (var i = 0; i < track.Length; i++)
        {
            var first = Math.Clamp((i * hop) - (width / 2), 0, samples.Length);
            var last = Math.Clamp(first + width, first, samples.Length);
            track[i] = Db(samples[first..last]);
        }

        return track;
    }

    /// <summary>The least whole number of periods that lasts 13 ms, in samples.</summary>
    public static int Window(double hertz, double rate) => (int)Math.Round(Math.Ceiling(0.013 * hertz) * rate / hertz);

    /// <summary>Seconds from the first sample until the level stays within 6 dB of what it comes to.</summary>
    public static double SpeaksAfter(ReadOnlySpan<float> samples, ReadOnlySpan<float> steady, double hertz, double rate)
    {
        const int Hop = 48;
        var track = Track(samples, Window(hertz, rate), Hop);
        var settled = Db(steady) - 6;
        var last = track.Length - 1 - (Window(hertz, rate) / Hop);
        while (last >= 0 && track[last] >= settled) last--;
        return (last + 1) * Hop / rate;
    }

    /// <summary>Power-weighted mean frequency of the harmonics, Hz, by a sum over each harmonic up to 12 kHz.</summary>
    public static double Centroid(ReadOnlySpan<float> samples, double hertz, double rate)
    {
        var whole = (int)(Math.Floor(samples.Length * hertz / rate) * rate / hertz);
        double power = 0, weighted = 0;
        for (var k = 1; k * hertz < 12_000; k++)
        {
            double re = 0, im = 0;
            var step = 2 * Math.PI * k * hertz / rate;
            for (var i = 0; i < whole; i++)
            {
                var w = 0.5 - (0.5 * Math.Cos(2 * Math.PI * i / whole));
                re += w * samples[i] * Math.Cos(step * i);
                im += w * samples[i] * Math.Sin(step * i);
            }

            power += (re * re) + (im * im);
            weighted += ((re * re) + (im * im)) * k * hertz;
        }

        return power > 0 ? weighted / power : 0;
    }
}
