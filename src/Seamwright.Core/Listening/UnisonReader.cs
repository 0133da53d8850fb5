namespace Seamwright.Core.Listening;

/// <summary>A second tone within a note's own harmonics, a few cents off.</summary>
/// <param name="Cents">Its pitch against the note's.</param>
/// <param name="Db">Its level against the note's, below 0.</param>
/// <param name="Share">How much of what the note's own slow changes leave over it explains, 0 to 1.</param>
/// <param name="Mirror">The same for a tone as far off on the other side: a swing of level or pitch has both.</param>
internal readonly record struct Unison(double Cents, double Db, double Share, double Mirror);

/// <summary>Looks for a second tone of almost the same pitch in a held note.</summary>
/// <remarks>A tone δ Hz off adds a line k·δ Hz beside the k-th harmonic: no vibrato, no swelling and no noise of one player does that, since
/// a swing of pitch or level has lines on both sides at one distance for all harmonics. Each harmonic is brought down to 0 Hz, the note's own slow
/// way of pitch (a cubic) and of level (a parabola) is taken out, and in what is left lines at k·δ are looked for.</remarks>
internal sealed class UnisonReader(SampleStore samples)
{
    private const int Rate = FinePitch.Rate;
    private const int Decimation = 16;
    private const double Step = 0.004;
    private const double Longest = 0.8;
    private const double Shortest = 0.25;
    private const double AfterOnset = 0.06;
    private const double BeforeEnd = 0.04;
    private const double HighestHarmonic = 3000;
    private const int MostHarmonics = 12;
    private const double MostOff = 22;
    private const double FewestTurns = 2.2;
    private const double MostCents = 45;

    private float[] block = [];

    /// <summary>The likeliest second tone; null where the note is too short.</summary>
    /// <param name="from">Where the note begins, seconds.</param>
    /// <param name="to">Where it ends.</param>
    /// <param name="hz">Its pitch.</param>
    public Unison? Of(double from, double to, double hz)
    {
        (from, to) = (from + AfterOnset, to - BeforeEnd);
        if (to - from > Longest) (from, to) = (((from + to) / 2) - (Longest / 2), ((from + to) / 2) + (Longest / 2));
        var half = Math.Max(0.03, 4 / hz) / 2;
        var count = (int)((to - from - (2 * half)) / Step);
        if (to - from < Shortest || count < 40) return null;
        var harmonics = Math.Min(MostHarmonics, (int)(HighestHarmonic / hz));
        if (harmonics < 3) return null;
        var (re, im) = (new double[harmonics][], new double[harmonics][]);
        Load(from, to);
        for (var k = 0; k < harmonics; k++) (re[k], im[k]) = Down((k + 1) * hz, half, count);
        TakeOutPitch(re, im, count);
        var own = new double[harmonics];
        for (var k = 0; k < harmonics; k++) own[k] = TakeOutLevel(re[k], im[k]);
        return Search(re, im, own, count, hz);
    }

    private void Load(double from, double to)
    {
        var length = (int)((to - from) * Rate);
        if (block.Length != length) block = new float[length];
        samples.CopyTo((long)(from * Rate), block);
    }

    // Turned down to 0 Hz, summed to a thousand a second, smoothed by a raised cosine that has its zeros between the neighbours.
    private (double[] Re, double[] Im) Down(double hz, double half, int count)
    {
        var few = block.Length / Decimation;
        var (fr, fi) = (new double[few], new double[few]);
        var (stepSin, stepCos) = Math.SinCos(-2 * Math.PI * hz / Rate);
        var (s, c) = (0.0, 1.0);
        for (var i = 0; i < few * Decimation; i++)
        {
            fr[i / Decimation] += block[i] * c;
            fi[i / Decimation] += block[i] * s;
            (s, c) = ((s * stepCos) + (c * stepSin), (c * stepCos) - (s * stepSin));
        }

        var taps = (int)(2 * half * Rate / Decimation);
        var window = new double[taps];
        for (var n = 0; n < taps; n++) window[n] = 0.5 - (0.5 * Math.Cos(2 * Math.PI * (n + 0.5) / taps));
        var (re, im) = (new double[count], new double[count]);
        for (var t = 0; t < count; t++)
        {
            var at = (int)(t * Step * Rate / Decimation);
            for (var n = 0; n < taps && at + n < few; n++)
            {
                re[t] += window[n] * fr[at + n];
                im[t] += window[n] * fi[at + n];
            }
        }

        return (re, im);
    }

    private static void TakeOutPitch(double[][] re, double[][] im, int count)
    {
        var phase = new double[count];
        for (var t = 1; t < count; t++)
        {
            var (sum, weight) = (0.0, 1e-30);
            for (var k = 0; k < re.Length; k++)
            {
                var turned = Math.Atan2((im[k][t] * re[k][t - 1]) - (re[k][t] * im[k][t - 1]), (re[k][t] * re[k][t - 1]) + (im[k][t] * im[k][t - 1]));
                var power = (re[k][t] * re[k][t]) + (im[k][t] * im[k][t]);
                sum += (k + 1) * turned * power;
                weight += (k + 1) * (k + 1) * power;
            }

            phase[t] = phase[t - 1] + (sum / weight);
        }

        var times = Enumerable.Range(0, count).Select(t => (2.0 * t / count) - 1).ToArray();
        var fit = MathNet.Numerics.Fit.Polynomial(times, phase, 3);
        for (var t = 0; t < count; t++)
        {
            var p = fit[0] + (times[t] * (fit[1] + (times[t] * (fit[2] + (times[t] * fit[3])))));
            for (var k = 0; k < re.Length; k++)
            {
                var (s, c) = Math.SinCos(-(k + 1) * p);
                (re[k][t], im[k][t]) = ((re[k][t] * c) - (im[k][t] * s), (re[k][t] * s) + (im[k][t] * c));
            }
        }
    }

    // Legendre's polynomials up to the second; returns the power of what was taken out.
    private static double TakeOutLevel(double[] re, double[] im)
    {
        var (power, count) = (0.0, re.Length);
        for (var degree = 0; degree < 3; degree++)
        {
            var (sr, si, norm) = (0.0, 0.0, 0.0);
            for (var t = 0; t < count; t++)
            {
                var p = Legendre(degree, (2.0 * t / (count - 1)) - 1);
                (sr, si, norm) = (sr + (p * re[t]), si + (p * im[t]), norm + (p * p));
            }

            (sr, si) = (sr / norm, si / norm);
            for (var t = 0; t < count; t++)
            {
                var p = Legendre(degree, (2.0 * t / (count - 1)) - 1);
                (re[t], im[t]) = (re[t] - (p * sr), im[t] - (p * si));
            }

            if (degree == 0) power = (sr * sr) + (si * si);
        }

        return power;
    }

    private static double Legendre(int degree, double x) => degree switch { 0 => 1, 1 => x, _ => ((3 * x * x) - 1) / 2 };

    private static Unison Search(double[][] re, double[][] im, double[] own, int count, double hz)
    {
        var seconds = count * Step;
        var most = hz * (Math.Pow(2, MostCents / 1200) - 1);
        var best = new Unison(0, -100, 0, 0);
        for (var delta = 0.25 / seconds / re.Length; delta <= most; delta += 0.25 / seconds / re.Length)
        {
            for (var side = -1; side <= 1; side += 2)
            {
                var (explained, all, tone) = At(re, im, own, side * delta, seconds);
                if (all <= 0 || explained / all <= best.Share) continue;
                var (mirrored, _, _) = At(re, im, own, -side * delta, seconds);
                best = new(1200 * Math.Log2(1 + (side * delta / hz)), 10 * Math.Log10(Math.Max(1e-12, explained / tone)), explained / all, mirrored / all);
            }
        }

        return best;
    }

    private static (double Explained, double All, double Tone) At(double[][] re, double[][] im, double[] own, double delta, double seconds)
    {
        var (explained, all, tone, used) = (0.0, 0.0, 1e-30, 0);
        for (var k = 0; k < re.Length; k++)
        {
            var off = (k + 1) * Math.Abs(delta);
            tone += own[k];
            if (off * seconds < FewestTurns || off > MostOff) continue;
            used++;
            var (a, b) = Line(re[k], im[k], (k + 1) * delta);
            explained += a;
            all += b;
        }

        return used >= 3 ? (explained, all, tone) : (0, 0, 1);
    }

    private static (double Line, double All) Line(double[] re, double[] im, double hz)
    {
        var (stepSin, stepCos) = Math.SinCos(-2 * Math.PI * hz * Step);
        var (s, c, sr, si, all, sum) = (0.0, 1.0, 0.0, 0.0, 0.0, 0.0);
        for (var t = 0; t < re.Length; t++)
        {
            var w = 0.5 - (0.5 * Math.Cos(2 * Math.PI * (t + 0.5) / re.Length));
            sr += w * ((re[t] * c) - (im[t] * s));
            si += w * ((re[t] * s) + (im[t] * c));
            all += w * ((re[t] * re[t]) + (im[t] * im[t]));
            sum += w;
            (s, c) = ((s * stepCos) + (c * stepSin), (c * stepCos) - (s * stepSin));
        }

        return (((sr * sr) + (si * si)) / (sum * sum), all / sum);
    }
}
