using System.Runtime.CompilerServices;
namespace Seamwright.Core.Listening;

/// <summary>A second tone within a note's own harmonics, a few cents off.</summary>
/// <param name="Cents">Its pitch against the note's.</param>
/// <param name="Db">Its level against the note's, by the harmonics where it shows.</param>
/// <param name="Seen">Level of what shows of it against the whole note: how much evidence it is.</param>
/// <param name="Share">How much of what the note's own slow changes leave over it explains, 0 to 1.</param>
/// <param name="Mirror">The same for a tone as far off on the other side: a swing of level or pitch has both.</param>
internal readonly record struct Unison(double Cents, double Db, double Seen, double Share, double Mirror)
{
    /// <summary>Its level against the note's: at least what is seen of it, at most as much everywhere as where it is seen (the higher harmonics, of
    /// which a brighter tone has more); half way between.</summary>
    public double Level => (Db + Seen) / 2;
}

/// <summary>Looks for a second tone of almost the same pitch in a held note.</summary>
/// <remarks>A tone δ Hz off adds a line k·δ Hz beside the k-th harmonic: no vibrato, no swelling and no noise of one player does that, since
/// a swing of pitch or level has lines on both sides at one distance for all harmonics. Each harmonic is brought down to 0 Hz, the note's own slow
/// way of pitch (a cubic) and of level (a parabola) is taken out, and in what is left lines at k·δ are looked for.</remarks>
internal sealed class UnisonReader(SampleStore samples)
{
    private const int Rate = FinePitch.Rate / 2;
    private const int Decimation = 8;
    private const int Bins = 512;
    private const double Step = 0.004;
    private const double Longest = 0.7;
    private const double Shortest = 0.25;
    private const double AfterOnset = 0.06;
    private const double BeforeEnd = 0.04;
    private const double HighestHarmonic = 3000;
    private const int MostHarmonics = 12;
    private const double MostOff = 22;
    private const double FewestTurns = 2.2;
    private const double MostCents = 45;

    private readonly Fourier fourier = new(Bins);
    private readonly float[] re = new float[Bins];
    private readonly float[] im = new float[Bins];
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
        var tones = new Harmonic[harmonics];
        Load(from, to);
        for (var k = 0; k < harmonics; k++) tones[k] = Down((k + 1) * hz, half, count);
        TakeOutPitch(tones, count);
        foreach (var tone in tones)
        {
            tone.TakeOutLevel();
            Transform(tone);
        }

        return Search(tones, count * Step, hz);
    }

    private void Load(double from, double to)
    {
        var fine = new float[2 * (int)((to - from) * Rate)];
        samples.CopyTo((long)(from * FinePitch.Rate), fine);
        if (block.Length != fine.Length / 2) block = new float[fine.Length / 2];
        for (var i = 0; i < block.Length; i++) block[i] = (fine[2 * i] + fine[(2 * i) + 1]) / 2;
    }

    // Turned down to 0 Hz, summed to a thousand a second, smoothed by a raised cosine that has its zeros between the neighbours.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private Harmonic Down(double hz, double half, int count)
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
        var tone = new Harmonic(new double[count], new double[count]);
        for (var t = 0; t < count; t++)
        {
            var at = (int)(t * Step * Rate / Decimation);
            var last = Math.Min(taps, few - at);
            for (var n = 0; n < last; n++)
            {
                tone.Re[t] += window[n] * fr[at + n];
                tone.Im[t] += window[n] * fi[at + n];
            }
        }

        return tone;
    }

    private static void TakeOutPitch(Harmonic[] tones, int count)
    {
        var phase = new double[count];
        for (var t = 1; t < count; t++)
        {
            var (sum, weight) = (0.0, 1e-30);
            for (var k = 0; k < tones.Length; k++)
            {
                var power = tones[k].Power(t);
                sum += (k + 1) * tones[k].Turned(t) * power;
                weight += (k + 1) * (k + 1) * power;
            }

            phase[t] = phase[t - 1] + (sum / weight);
        }

        var times = Enumerable.Range(0, count).Select(t => (2.0 * t / count) - 1).ToArray();
        var fit = MathNet.Numerics.Fit.Polynomial(times, phase, 3, MathNet.Numerics.LinearRegression.DirectRegressionMethod.NormalEquations);
        for (var t = 0; t < count; t++)
        {
            var p = fit[0] + (times[t] * (fit[1] + (times[t] * (fit[2] + (times[t] * fit[3])))));
            for (var k = 0; k < tones.Length; k++) tones[k].Turn(t, -(k + 1) * p);
        }
    }

    // Power of what is left over, by frequency, in a raised-cosine window.
    private void Transform(Harmonic tone)
    {
        re.AsSpan().Clear();
        im.AsSpan().Clear();
        var (sum, all) = (0.0, 0.0);
        for (var t = 0; t < tone.Re.Length; t++)
        {
            var w = 0.5 - (0.5 * Math.Cos(2 * Math.PI * (t + 0.5) / tone.Re.Length));
            (re[t], im[t]) = ((float)(w * tone.Re[t]), (float)(w * tone.Im[t]));
            all += w * tone.Power(t);
            sum += w;
        }

        fourier.Forward(re, im);
        tone.All = all / sum;
        for (var b = 0; b < Bins; b++) tone.Line[b] = ((re[b] * re[b]) + (im[b] * im[b])) / (sum * sum);
    }

    private static Unison Search(Harmonic[] tones, double seconds, double hz)
    {
        var most = hz * (Math.Pow(2, MostCents / 1200) - 1);
        var step = 0.25 / seconds / tones.Length;
        var whole = Math.Max(1e-30, tones.Sum(t => t.Own));
        var best = new Unison(0, -100, -100, 0, 0);
        for (var delta = step; delta <= most; delta += step)
        {
            for (var side = -1; side <= 1; side += 2)
            {
                var (explained, all, own) = At(tones, side * delta, seconds);
                if (all <= 0 || explained / all <= best.Share) continue;
                var (mirrored, _, _) = At(tones, -side * delta, seconds);
                best = new(1200 * Math.Log2(1 + (side * delta / hz)), Energy.ToDb(explained / own), Energy.ToDb(explained / whole), explained / all, mirrored / all);
            }
        }

        return best;
    }

    private static (double Explained, double All, double Own) At(Harmonic[] tones, double delta, double seconds)
    {
        var (explained, all, own, used) = (0.0, 0.0, 1e-30, 0);
        for (var k = 0; k < tones.Length; k++)
        {
            var off = (k + 1) * Math.Abs(delta);
            if (off * seconds < FewestTurns || off > MostOff) continue;
            used++;
            own += tones[k].Own;
            explained += tones[k].Line[(int)Math.Round((k + 1) * delta * Step * Bins) & (Bins - 1)];
            all += tones[k].All;
        }

        return used >= 3 ? (explained, all, own) : (0, 0, 1);
    }

    /// <summary>One harmonic about 0 Hz.</summary>
    private sealed class Harmonic(double[] re, double[] im)
    {
        public double[] Re { get; } = re;

        public double[] Im { get; } = im;

        /// <summary>Power of the note's own part.</summary>
        public double Own { get; private set; }

        /// <summary>Power of all that is left over.</summary>
        public double All { get; set; }

        /// <summary>That of a line at each frequency.</summary>
        public double[] Line { get; } = new double[Bins];

        public double Power(int t) => (Re[t] * Re[t]) + (Im[t] * Im[t]);

        /// <summary>By how much the phase has turned since the moment before, radians.</summary>
        public double Turned(int t) => Math.Atan2((Im[t] * Re[t - 1]) - (Re[t] * Im[t - 1]), (Re[t] * Re[t - 1]) + (Im[t] * Im[t - 1]));

        public void Turn(int t, double by)
        {
            var (s, c) = Math.SinCos(by);
            (Re[t], Im[t]) = ((Re[t] * c) - (Im[t] * s), (Re[t] * s) + (Im[t] * c));
        }

        /// <summary>Takes out Legendre's polynomials up to the second.</summary>
        public void TakeOutLevel()
        {
            for (var degree = 0; degree < 3; degree++)
            {
                var (sr, si, norm) = (0.0, 0.0, 0.0);
                for (var t = 0; t < Re.Length; t++)
                {
                    var p = Legendre(degree, (2.0 * t / (Re.Length - 1)) - 1);
                    (sr, si, norm) = (sr + (p * Re[t]), si + (p * Im[t]), norm + (p * p));
                }

                (sr, si) = (sr / norm, si / norm);
                if (degree == 0) Own = (sr * sr) + (si * si);
                for (var t = 0; t < Re.Length; t++)
                {
                    var p = Legendre(degree, (2.0 * t / (Re.Length - 1)) - 1);
                    (Re[t], Im[t]) = (Re[t] - (p * sr), Im[t] - (p * si));
                }
            }
        }

        private static double Legendre(int degree, double x) => degree switch { 0 => 1, 1 => x, _ => ((3 * x * x) - 1) / 2 };
    }
}
