using Seamwright.Core.Sound.Loudness;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Sound.Loudness;

public class TruePeakTests
{
    // EBU Tech 3341 (2016, the same in 2023), table 1, cases 15 to 19: +0.2/-0.4 dB. Frequency as a share of the rate, amplitude, phase.
    [Theory]
    [InlineData(4, 0.5, 0, -6)]
    [InlineData(4, 0.5, 45, -6)]
    [InlineData(6, 0.5, 60, -6)]
    [InlineData(8, 0.5, 67.5, -6)]
    [InlineData(4, 1.41, 45, 3)]
    public void The_broadcasters_test_signals_read_as_they_must(int share, double amplitude, double phase, double expected)
    {
        // They fade in and out; a tone that begins at once goes beyond its own amplitude.
        foreach (var rate in (int[])[48000, 44100, 96000])
        {
            var read = Peak(Faded(rate, 1.0 / share, amplitude, phase), rate);
            Assert.InRange(read, expected - 0.4, expected + 0.2);
        }
    }

    // Table 1, cases 20 to 23: in a sine of a sixth of the rate, 0.5, one period of a quarter of the rate, 1.0, in phase on both sides; made at four
    // times the rate, low-passed, and taken down from the first, second, third or fourth sample on. 0.0 +0.2/-0.4 dB.
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void A_single_high_wave_between_the_samples_reads_as_it_must(int offset)
    {
        const int Length = 4 * 4800, Taps = 255, Begin = 24 * 400, Wave = 16;
        double[] high = [.. Enumerable.Range(0, Length).Select(i => Fade(i, Length, 4 * 480)
            * (i < Begin ? 0.5 * Math.Sin(2 * Math.PI * i / 24) : i < Begin + Wave ? Math.Sin(2 * Math.PI * (i - Begin) / 16) : 0.5 * Math.Sin(2 * Math.PI * (i - Begin - Wave) / 24)))];
        double Low(int at) => Enumerable.Range(-Taps, (2 * Taps) + 1).Sum(k => at - k < 0 || at - k >= Length ? 0 : high[at - k] * Sinc(k / 4.0) / 4 * Blackman(k / (double)Taps));
        float[] samples = [.. Enumerable.Range(0, (Length / 4) - 1).Select(i => (float)Low((4 * i) + offset))];
        Assert.InRange(Peak(samples, 48000), -0.4, 0.2);

        static double Sinc(double x) => x == 0 ? 1 : Math.Sin(Math.PI * x) / (Math.PI * x);
        static double Blackman(double x) => 0.42 + (0.5 * Math.Cos(Math.PI * x)) + (0.08 * Math.Cos(2 * Math.PI * x));
    }

    [Theory] // The bound of ITU-R BS.1770-5, annex 2, for what lies between the points of the grid.
    [InlineData(48000, 8)]
    [InlineData(96000, 4)]
    [InlineData(192000, 2)]
    public void A_peak_is_under_read_by_no_more_than_the_bound(int rate, int factor)
    {
        Assert.Equal(factor, PeakInterpolator.Factor(new SampleRate(rate)));
        for (var share = 0.01; share <= 0.45; share += 0.0173)
        {
            var bound = 20 * Math.Log10(Math.Cos(Math.PI * share / factor));
            for (var phase = 0; phase < 180; phase += 12) Assert.InRange(Peak(Faded(rate, share, 0.5, phase), rate), -6.0206 + bound - 0.03, -6.0206 + 0.05);
        }
    }

    [Fact]
    public void It_reads_what_a_sum_over_all_samples_gives()
    {
        // Noise below 0.4 of the rate, made of many tones.
        var random = new Random(5);
        for (var trial = 0; trial < 5; trial++)
        {
            var tones = Enumerable.Range(0, 40).Select(_ => (Share: 0.4 * random.NextDouble(), Phase: 2 * Math.PI * random.NextDouble())).ToArray();
            double At(double i) => 0.02 * tones.Sum(t => Math.Sin((2 * Math.PI * t.Share * i) + t.Phase)) * Math.Pow(Math.Sin(Math.PI * Math.Clamp(i / 2000, 0, 1)), 2);
            var samples = Enumerable.Range(0, 2001).Select(i => (float)At(i)).ToArray();
            var truth = Enumerable.Range(0, 2000 * 64).Max(i => Math.Abs(At(i / 64.0)));
            Assert.InRange(Peak(samples, 48000), (20 * Math.Log10(truth)) - 0.14, (20 * Math.Log10(truth)) + 0.03);
        }
    }

    [Fact]
    public void A_tone_cut_off_at_its_height_rings_beyond_its_end()
    {
        var cut = Enumerable.Range(0, 401).Select(i => (float)(0.5 * Math.Sin((Math.PI / 2 * i) + (Math.PI / 4)))).ToArray();
        Assert.True(Peak(cut, 48000) > -5.9);
    }

    [Fact]
    public void A_peak_is_told_at_the_frame_before_it()
    {
        var interpolator = new PeakInterpolator(new(48000));
        var samples = new float[300];
        (samples[100], samples[101]) = (0.5f, 0.5f);
        var peaks = new float[300];
        interpolator.Process(samples, 1, peaks, floor: 0);
        Assert.Equal(100 + PeakInterpolator.Delay, Array.IndexOf(peaks, peaks.Max()));
        Assert.Equal(0.5 * 4 / Math.PI, peaks.Max(), 0.02);
    }

    private static float[] Faded(int rate, double share, double amplitude, double phase)
    {
        const int Length = 4800;
        var samples = new float[Length];
        for (var i = 0; i < Length; i++) samples[i] = (float)(amplitude * Fade(i, Length, rate / 100) * Math.Sin((2 * Math.PI * share * i) + (Math.PI * phase / 180)));
        return samples;
    }

    // 10 ms in and out, as the test signals ask.
    private static double Fade(int i, int length, int fade) => Math.Pow(Math.Sin(Math.PI / 2 * Math.Min(1, Math.Min(i, length - 1 - i) / (double)fade)), 2);

    private static double Peak(float[] samples, int rate) => LoudnessMeter.Measure(Tones.Feed(samples, rate), TestContext.Current.CancellationToken).Peak!.Value.Value;
}
