namespace Seamwright.GroundTruth.Making;

/// <summary>Reads the frequency of a nearly steady tone from the phases of its harmonics.</summary>
/// <remarks>Each harmonic is shifted to 0 Hz and smoothed by a Hann window; the phase's advance over a hop is its frequency. Harmonics
/// are weighted with k²·A², which is the best weighting in white noise (Rife and Boorstyn, Bell Syst. Tech. J. 55 (1976)).</remarks>
internal static class Demodulator
{
    public const double Hop = 0.005;

    /// <summary>Hz every <see cref="Hop"/>, first at half a hop; where hardly anything sounds, 0.</summary>
    /// <param name="samples">The tone alone.</param>
    /// <param name="rate">Samples a second.</param>
    /// <param name="guess">Hz, right within half a semitone.</param>
    /// <param name="window">Seconds; at least three periods are used.</param>
    public static double[] Track(ReadOnlySpan<float> samples, int rate, double guess, double window = 0.04)
    {
        var length = (int)(Math.Max(window, 4 / guess) * rate);
        var hops = (int)(samples.Length / (rate * Hop));
        var (weighted, weights) = (new double[Math.Max(0, hops - 1)], new double[Math.Max(0, hops - 1)]);
        for (var k = 1; k <= 12 && k * guess < Math.Min(6000, 0.4 * rate); k++)
            Add(samples, rate, k * guess, k, length, weighted, weights);
        var most = weights.Length > 0 ? weights.Order().ElementAt(weights.Length * 9 / 10) : 0;
        return [.. weighted.Select((w, i) => weights[i] > most * 3e-3 ? guess + (w / weights[i]) : 0)];
    }

    /// <summary>Peak amplitudes of the harmonics over a steady stretch.</summary>
    public static double[] Harmonics(ReadOnlySpan<float> stretch, int rate, double hz, int most)
    {
        var count = Math.Min(most, (int)(0.45 * rate / hz));
        var found = new double[count];
        for (var k = 1; k <= count; k++)
        {
            var (re, im) = Shifted(stretch, rate, k * hz, 0, stretch.Length);
            found[k - 1] = 2 * Math.Sqrt((re * re) + (im * im));
        }

        return found;
    }

    private static void Add(ReadOnlySpan<float> samples, int rate, double hz, int k, int length, double[] weighted, double[] weights)
    {
        var (lastRe, lastIm) = (0.0, 0.0);
        for (var h = 0; h <= weights.Length; h++)
        {
            var start = (int)Math.Round(h * Hop * rate) - (length / 2);
            var (re, im) = Shifted(samples, rate, hz, start, length);
            if (h > 0)
            {
                var angle = Math.Atan2((im * lastRe) - (re * lastIm), (re * lastRe) + (im * lastIm));
                var hop = (Math.Round(h * Hop * rate) - Math.Round((h - 1) * Hop * rate)) / rate;
                var weight = k * k * Math.Min((re * re) + (im * im), (lastRe * lastRe) + (lastIm * lastIm));
                weighted[h - 1] += weight * angle / (2 * Math.PI * hop * k);
                weights[h - 1] += weight;
            }

            (lastRe, lastIm) = (re, im);
        }
    }

    private static (double Re, double Im) Shifted(ReadOnlySpan<float> samples, int rate, double hz, int start, int length)
    {
        var (from, to) = (Math.Max(0, start), Math.Min(samples.Length, start + length));
        double re = 0, im = 0, sum = 0;
        var step = 2 * Math.PI * hz / rate;
        var (c, s) = (Math.Cos(step), Math.Sin(step));
        var (x, y) = (Math.Cos(step * from), -Math.Sin(step * from));
        var turn = 2 * Math.PI / length;
        var (wc, ws) = (Math.Cos(turn), Math.Sin(turn));
        var (wx, wy) = (Math.Cos(turn * (from - start + 0.5)), Math.Sin(turn * (from - start + 0.5)));
        for (var i = from; i < to; i++)
        {
            var w = 1 - wx;
            re += w * samples[i] * x;
            im += w * samples[i] * y;
            sum += w;
            (x, y) = ((x * c) + (y * s), (y * c) - (x * s));
            (wx, wy) = ((wx * wc) - (wy * ws), (wy * wc) + (wx * ws));
        }

        return sum == 0 ? (0, 0) : (re / length, im / length);
    }
}
