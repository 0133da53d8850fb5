namespace Seamwright.Core.Listening;

/// <summary>Finds single returns of a sound in the sound itself, from 30 to 300 ms.</summary>
/// <remarks>Power cepstrum (Bogert, Healy and Tukey, Proc. Symp. Time Series Analysis 1963): a return of amplitude g after τ seconds adds the
/// real cepstrum g/2 at τ, whatever is played, so it shows in nearly every stretch of the recording, which a tone's own periods do not where
/// several pitches are played. So the lower quartile over the stretches counts. A tone that sounds all along (a drone) shows at its period
/// too and is told by its other periods. A room's even decay is too thin at any single moment to be seen here.</remarks>
internal static class EchoFinder
{
    // Stretches of a second at 8 kHz: longer than any return, short enough that every take holds several.
    private const int Rate = FinePitch.Rate / 2;
    private const int Frame = 8192;
    private const int Most = 160;
    private const int Fewest = 8;
    private const int Nearest = 30 * Rate / 1000;
    private const int Furthest = 300 * Rate / 1000;
    private const int ShortestPeriod = Rate / 1200;
    private const int LongestPeriod = Rate / 40;
    private const int Quefrencies = Furthest + LongestPeriod + 2;

    // Where a spectrum lies further below its peak than this there is nothing but rounding.
    private const float SpectrumFloor = 1e-5f;
    private const double QuietFrame = 1e-4;

    // Lower quartiles: at most 0.03 in dry and reverberant takes of every kind we have; from 0.05 where a return lies 15 dB down.
    private const double Seen = 0.045;

    /// <summary>The returns; null where none is seen or the recording is shorter than five seconds.</summary>
    public static Echo? Of(SampleStore samples)
    {
        var cepstra = Cepstra(samples);
        if (cepstra.Count < Fewest) return null;
        var quartile = new double[Quefrencies];
        var median = new double[Quefrencies];
        var column = new float[cepstra.Count];
        for (var k = ShortestPeriod; k < quartile.Length; k++)
        {
            for (var i = 0; i < column.Length; i++) column[i] = cepstra[i][k];
            Array.Sort(column);
            (quartile[k], median[k]) = (column[column.Length / 4], column[column.Length / 2]);
        }

        var returns = Peaks(quartile).Where(k => !IsOfATone(quartile, k)).Select(k => (Lag: k, Strength: 2 * Sum(median, k) / Overlap(k))).ToList();
        if (returns.Count == 0) return null;
        var (lag, strongest) = returns.MaxBy(r => r.Strength);
        var all = Math.Sqrt(returns.Sum(r => r.Strength * r.Strength));
        return new Echo((double)lag / Rate, (double)returns[^1].Lag / Rate, Math.Min(0.9, strongest), Math.Min(0.9, all));
    }

    private static IEnumerable<int> Peaks(double[] quartile)
    {
        for (var k = Nearest; k <= Furthest; k++)
        {
            if (quartile[k] >= quartile[k - 1] && quartile[k] > quartile[k + 1] && Sum(quartile, k) >= Seen * Overlap(k)) yield return k;
        }
    }

    // A return rarely lies on a sample: what it gives is shared by neighbours.
    private static double Sum(double[] of, int k) => of[k] + Math.Max(0, Math.Max(of[k - 1], of[k + 1]));

    // A tone's cepstrum has peaks at all its periods: one as high a period before and a period after this one.
    private static bool IsOfATone(double[] quartile, int lag)
    {
        var least = Sum(quartile, lag) / 2;
        for (var period = ShortestPeriod; period <= LongestPeriod; period++)
        {
            if (Sum(quartile, lag - period) >= least && Sum(quartile, lag + period) >= least) return true;
        }

        return false;
    }

    // The frame's own window overlaps less with itself the later the return comes.
    private static double Overlap(int lag)
    {
        var x = (double)lag / Frame;
        return ((1 - x) * (2 + Math.Cos(2 * Math.PI * x)) / 3) + (Math.Sin(2 * Math.PI * x) / (2 * Math.PI));
    }

    private static List<float[]> Cepstra(SampleStore samples)
    {
        const int Samples = 2 * Frame;
        var count = (int)Math.Clamp(((samples.Length - Samples) / Frame) + 1, 0, Most);
        var (fine, re, im) = (new float[Samples], new float[2 * Frame], new float[2 * Frame]);
        var window = Enumerable.Range(0, Frame).Select(i => (float)(0.5 - (0.5 * Math.Cos(2 * Math.PI * (i + 0.5) / Frame)))).ToArray();
        var fourier = new Fourier(2 * Frame);
        var found = new List<(double Power, float[] Cepstrum)>(count);
        for (var f = 0; f < count; f++)
        {
            samples.CopyTo((samples.Length - Samples) * f / Math.Max(1, count - 1), fine);
            Array.Clear(re);
            Array.Clear(im);
            var power = 0.0;
            for (var i = 0; i < Frame; i++)
            {
                re[i] = window[i] * (fine[2 * i] + fine[(2 * i) + 1]) / 2;
                power += re[i] * re[i];
            }

            if (power > 0) found.Add((power, Cepstrum(fourier, re, im)));
        }

        var loudest = found.Count == 0 ? 0 : found.Max(f => f.Power);
        return [.. found.Where(f => f.Power >= QuietFrame * loudest).Select(f => f.Cepstrum)];
    }

    // The logarithm of a spectrum is real and even, so forward and backward transforms are alike.
    private static float[] Cepstrum(Fourier fourier, float[] re, float[] im)
    {
        fourier.Forward(re, im);
        var most = 0f;
        for (var i = 0; i < re.Length; i++) most = Math.Max(most, re[i] = MathF.Sqrt((re[i] * re[i]) + (im[i] * im[i])));
        for (var i = 0; i < re.Length; i++) re[i] = MathF.Log(Math.Max(re[i], SpectrumFloor * most));
        Array.Clear(im);
        fourier.Forward(re, im);
        var cepstrum = new float[Quefrencies];
        for (var k = 0; k < cepstrum.Length; k++) cepstrum[k] = re[k] / re.Length;
        return cepstrum;
    }
}
