namespace Seamwright.Core.Listening;

/// <summary>Finds single returns of a sound in the sound itself, from 30 to 300 ms.</summary>
/// <remarks>Power cepstrum (Bogert, Healy and Tukey, Proc. Symp. Time Series Analysis 1963): a return of amplitude g after τ seconds adds the
/// real cepstrum g/2 at τ, whatever is played, so it shows in nearly every stretch of the recording, which a tone's own periods do not where
/// several pitches are played. So the lower quartile over the pieces counts, each left out where its own notes' periods lie: the notes of
/// one key share multiples of their periods. Another tone that sounds all along (a drone) shows at its period
/// too and is told by its other periods. A room's even decay is too thin at any single moment to be seen here.</remarks>
internal static class EchoFinder
{
    // Pieces of a second at 8 kHz: longer than any return, short enough that every take holds several.
    private const int Rate = FinePitch.Rate / 2;
    private const int Frame = 8192;
    private const int Most = 96;
    private const int Fewest = 8;
    private const int Nearest = 30 * Rate / 1000;
    private const int Furthest = 300 * Rate / 1000;

    // On one or two pitches their own periods cannot be told from a return (a long tone with touches showed one of 39 ms).
    private const int FewestPitches = 4;
    private const double LeastShare = 0.03;
    private const int ShortestPeriod = Rate / 1200;
    private const int LongestPeriod = Rate / 40;
    private const int Quefrencies = Furthest + LongestPeriod + 2;

    // Where a spectrum lies further below its peak than this there is nothing but rounding.
    private const float SpectrumFloor = 1e-5f;
    private const double QuietFrame = 1e-4;

    // Lower quartiles: at most 0.03 in dry and reverberant takes of every kind we have; from 0.05 where a return lies 15 dB down.
    private const double Seen = 0.045;

    /// <summary>The returns; null where none is seen, the recording is shorter than five seconds or has fewer than four pitches.</summary>
    /// <param name="samples">The recording.</param>
    /// <param name="hz">Its pitch every 5 ms, 0 where there is none.</param>
    public static Echo? Of(SampleStore samples, double[] hz)
    {
        if (PitchesIn(hz) < FewestPitches) return null;
        var pieces = Pieces(samples, hz);
        if (pieces.Count < Fewest) return null;
        var (all, column) = (new double[Quefrencies], new float[pieces.Count]);
        for (var k = ShortestPeriod; k < Quefrencies; k++)
        {
            for (var i = 0; i < column.Length; i++) column[i] = pieces[i].Cepstrum[k];
            Array.Sort(column);
            all[k] = column[column.Length / 4];
        }

        var returns = Peaks(all).Where(k => Apart(pieces, k, 4) >= Seen * Overlap(k) && !IsOfATone(all, k))
            .Select(k => (Lag: k, Strength: 2 * Apart(pieces, k, 2) / Overlap(k))).ToList();
        if (returns.Count == 0) return null;
        var (lag, strongest) = returns.MaxBy(r => r.Strength);
        var together = Math.Sqrt(returns.Sum(r => r.Strength * r.Strength));
        return new Echo((double)lag / Rate, (double)returns[^1].Lag / Rate, Math.Min(0.9, strongest), Math.Min(0.9, together));
    }

    // Semitones that sound for more than a moment.
    private static int PitchesIn(double[] hz)
    {
        var sounding = hz.Where(h => h > 0).Select(h => (int)Math.Round(12 * Math.Log2(h / 440))).ToList();
        return sounding.GroupBy(s => s).Count(g => g.Count() >= LeastShare * sounding.Count);
    }

    // The quarter or half of the pieces in whose own notes' periods a delay does not lie; 0 where those are too few to tell.
    private static double Apart(List<Piece> pieces, int lag, int part)
    {
        return At(lag) + Math.Max(0, Math.Max(At(lag - 1), At(lag + 1)));

        double At(int k)
        {
            var values = pieces.Where(s => !s.Own[k]).Select(s => s.Cepstrum[k]).Order().ToArray();
            return values.Length < Fewest ? 0 : values[values.Length / part];
        }
    }

    // Higher than all within half a millisecond: the flank of a peak is none.
    private static IEnumerable<int> Peaks(double[] quartile)
    {
        const int About = Rate / 2000;
        for (var k = Nearest; k <= Furthest; k++)
        {
            if (quartile[k] > 0 && quartile.AsSpan(k - About, (2 * About) + 1).IndexOfAnyExceptInRange(double.NegativeInfinity, quartile[k]) < 0) yield return k;
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

    private static List<Piece> Pieces(SampleStore samples, double[] hz)
    {
        var frames = new Frames(samples, hz);
        var found = new List<Piece>();
        for (var f = 0; f < frames.Count; f += 2) frames.Read(f, found);
        var loudest = found.Count == 0 ? 0 : found.Max(f => f.Power);
        return [.. found.Where(f => f.Power > 0 && f.Power >= QuietFrame * loudest)];
    }

    /// <summary>One stretch of the recording.</summary>
    /// <param name="Power">Of its sound.</param>
    /// <param name="Cepstrum">By delay in samples.</param>
    /// <param name="Own">Where its own notes' periods lie.</param>
    private readonly record struct Piece(double Power, float[] Cepstrum, bool[] Own);

    /// <summary>Pieces of the recording, evenly spread; two share a transform, one in its real, one in its imaginary part.</summary>
    private sealed class Frames
    {
        private const int Samples = 2 * Frame;
        private const double Golden = 0.6180339887498949;
        private readonly SampleStore samples;
        private readonly double[] hz;
        private readonly float[] fine = new float[Samples];
        private readonly float[] re = new float[Frame];
        private readonly float[] im = new float[Frame];
        private readonly float[] window = [.. Enumerable.Range(0, Frame).Select(i => (float)(0.5 - (0.5 * Math.Cos(2 * Math.PI * (i + 0.5) / Frame))))];
        private readonly Fourier fourier = new(Frame);

        public Frames(SampleStore samples, double[] hz)
        {
            (this.samples, this.hz) = (samples, hz);
            Count = (int)Math.Clamp(((samples.Length - Samples) / Frame) + 1, 0, Most);
        }

        public int Count { get; }

        /// <summary>Adds a frame and the next one.</summary>
        public void Read(int frame, List<Piece> found)
        {
            var (one, two) = (Load(frame, re), Load(Math.Min(frame + 1, Count - 1), im));
            fourier.Forward(re, im);
            Logarithms();

            // The logarithm of a spectrum is real and even, so forward and backward transforms are alike and stay apart.
            fourier.Forward(re, im);
            found.Add(new(one, Scaled(re), OwnPeriods(frame)));
            if (frame + 1 < Count) found.Add(new(two, Scaled(im), OwnPeriods(frame + 1)));
        }

        // A long recording is looked at in places that no even practice can fall in step with.
        private long Start(int frame) => Count < Most
            ? (samples.Length - Samples) * frame / Math.Max(1, Count - 1)
            : (long)((samples.Length - Samples) * (frame * Golden % 1));

        private double Load(int frame, float[] into)
        {
            samples.CopyTo(Start(frame), fine);
            Array.Clear(into);
            var power = 0.0;
            for (var i = 0; i < Frame; i++)
            {
                into[i] = window[i] * (fine[2 * i] + fine[(2 * i) + 1]) / 2;
                power += into[i] * into[i];
            }

            return power;
        }

        // Of two real sounds in one transform X: (X[k] + X*[−k])/2 and (X[k] − X*[−k])/2i.
        private void Logarithms()
        {
            var (most1, most2) = (0f, 0f);
            for (var k = 0; k <= Frame / 2; k++)
            {
                var n = k == 0 ? 0 : re.Length - k;
                var (ar, ai, br, bi) = (re[k] + re[n], im[k] - im[n], im[k] + im[n], re[n] - re[k]);
                re[k] = (ar * ar) + (ai * ai);
                im[k] = (br * br) + (bi * bi);
                (most1, most2) = (Math.Max(most1, re[k]), Math.Max(most2, im[k]));
            }

            for (var k = 0; k <= Frame / 2; k++)
            {
                re[k] = 0.5f * MathF.Log(Math.Max(re[k], Math.Max(SpectrumFloor * SpectrumFloor * most1, 1e-30f)));
                im[k] = 0.5f * MathF.Log(Math.Max(im[k], Math.Max(SpectrumFloor * SpectrumFloor * most2, 1e-30f)));
                if (k is > 0 and < Frame / 2) (re[^k], im[^k]) = (re[k], im[k]);
            }
        }

        private static float[] Scaled(float[] transform)
        {
            var cepstrum = new float[Quefrencies];
            for (var k = 0; k < cepstrum.Length; k++) cepstrum[k] = transform[k] / transform.Length;
            return cepstrum;
        }

        private bool[] OwnPeriods(int frame)
        {
            var own = new bool[Quefrencies];
            foreach (var period in Periods(frame)) Mark(own, period);
            return own;
        }

        // Where the pitch stands still for 30 ms.
        private IEnumerable<double> Periods(int frame)
        {
            const int Held = 6;
            const double Still = 0.002;
            var first = (int)(Start(frame) / (FinePitch.Rate * LiveEar.Hop));
            var last = Math.Min(hz.Length, first + (int)(Samples / (FinePitch.Rate * LiveEar.Hop)));
            for (var i = first + Held; i < last; i += Held / 2)
            {
                if (hz[i] > 0 && Math.Abs(hz[i] - hz[i - Held]) < Still * hz[i]) yield return Rate / hz[i];
            }
        }

        private static void Mark(bool[] own, double period)
        {
            const double Wavering = 0.002;
            for (var at = period; at < own.Length; at += period)
            {
                var reach = 1.5 + (Wavering * at);
                for (var k = (int)Math.Ceiling(at - reach); k <= at + reach && k < own.Length; k++) own[k] = true;
            }
        }
    }
}
