using System.Globalization;
using Seamwright.Core.Sound.Loudness;
using Seamwright.Core.Units;
using Seamwright.Tests.Audio;

namespace Seamwright.Tests.Sound.Loudness;

public class LoudnessMeterTests
{
    [Fact] // ITU-R BS.1770-5, annex 1, tables 1 and 2.
    public void At_48_kHz_the_filters_are_those_of_the_recommendation()
    {
        Near((1.53512485958697, -2.69169618940638, 1.19839281085285, -1.69065929318241, 0.73248077421585), KWeighting.Shelf(new(48000)).Coefficients);
        Near((1, -2, 1, -1.99004745483398, 0.99007225036621), KWeighting.HighPass(new(48000)).Coefficients);
    }

    [Theory] // ITU-R BS.1770-5, annex 1: a 0 dBFS sine of 997 Hz on one channel reads -3.01 LKFS.
    [InlineData(48000, 0.005)]
    [InlineData(32000, 0.02)]
    [InlineData(44100, 0.01)]
    [InlineData(96000, 0.02)]
    [InlineData(192000, 0.02)]
    [InlineData(22050, 0.05)]
    [InlineData(16000, 0.06)]
    [InlineData(11025, 0.12)]
    [InlineData(8000, 0.22)]
    public void A_full_sine_of_997_Hz_reads_minus_3_01(int rate, double tolerance)
    {
        Assert.Equal(-3.01, Loudness(Tones.Sine(rate, 1, 997, (0, 5)), rate, 1), tolerance);
        Assert.Equal(0, Loudness(Tones.Sine(rate, 2, 997, (0, 5)), rate, 2), tolerance);
    }

    [Theory] // The response at 48 kHz is the recommendation's.
    [InlineData(44100)]
    [InlineData(96000)]
    [InlineData(192000)]
    public void Other_rates_weight_as_48_kHz_does(int rate)
    {
        foreach (var frequency in (double[])[30, 58.27, 233.08, 466.16, 1700, 3000, 6000, 10000])
            Assert.Equal(Loudness(Tones.Sine(48000, 1, frequency, (-6, 2)), 48000, 1), Loudness(Tones.Sine(rate, 1, frequency, (-6, 2)), rate, 1), 0.12);
    }

    // EBU Tech 3341 (2016, the same in 2023), table 1, cases 1 to 5: a stereo sine of 1 kHz, levels of the peak on each channel; ±0.1 LU. Case 6 has
    // five channels, which are not measured here.
    [Theory]
    [InlineData(1, -23)]
    [InlineData(2, -33)]
    [InlineData(3, -23)]
    [InlineData(4, -23)]
    [InlineData(5, -23)]
    public void The_broadcasters_test_programmes_read_as_they_must(int number, double expected)
    {
        (double Level, double Seconds)[] stretches = number switch
        {
            1 => [(-23, 20)],
            2 => [(-33, 20)],
            3 => [(-36, 10), (-23, 60), (-36, 10)],
            4 => [(-72, 10), (-36, 10), (-23, 60), (-36, 10), (-72, 10)],
            _ => [(-26, 20), (-20, 20.1), (-26, 20)],
        };
        foreach (var rate in (int[])[48000, 44100])
            Assert.True(Math.Abs(expected - Loudness(Tones.Sine(rate, 2, 1000, stretches), rate, 2)) <= 0.1, $"case {number} at {rate} Hz");
    }

    [Fact]
    public void Each_gate_takes_what_it_should()
    {
        // -71 LUFS is beneath the first gate, 14 LU below the loud part beneath the second (10 LU under the mean
        // of both, which is 3 LU under the loud one), 12 LU below it above both.
        Assert.Null(Read(Tones.Sine(48000, 1, 997, (-68, 5)), 48000, 1).Integrated);
        Assert.Equal(-23.01, Loudness(Tones.Sine(48000, 1, 997, (-20, 30), (-34, 30)), 48000, 1), 0.05);
        var both = 10 * Math.Log10((1 + Math.Pow(10, -1.2)) / 2);
        Assert.Equal(-23.01 + both, Loudness(Tones.Sine(48000, 1, 997, (-20, 30), (-32, 30)), 48000, 1), 0.05);
    }

    [Theory]
    [InlineData(48000, 2)]
    [InlineData(11025, 1)]
    public void How_the_sound_is_cut_into_blocks_changes_nothing(int rate, int channels)
    {
        var piece = Tones.Piece(rate, channels, 9.3);
        var whole = Read(piece, rate, channels);
        foreach (var block in (int[])[1, 7, 480, 4096, 100_000])
        {
            var meter = new LoudnessMeter(new SampleRate(rate), channels);
            for (var at = 0; at < piece.Length; at += block * channels) meter.Add(piece.AsSpan(at, Math.Min(block * channels, piece.Length - at)));
            Assert.Equal(whole, meter.Reading);
        }
    }

    [Fact]
    public void Silence_and_what_is_too_short_have_no_loudness()
    {
        Assert.Equal(new LoudnessReading(null, null), Read(new float[48000], 48000, 1));
        Assert.Null(Read(Tones.Sine(48000, 1, 997, (0, 0.399)), 48000, 1).Integrated);
        Assert.NotNull(Read(Tones.Sine(48000, 1, 997, (0, 0.4)), 48000, 1).Integrated);
    }

    [Fact]
    public void A_meter_that_was_reset_knows_nothing_of_before()
    {
        var meter = new LoudnessMeter(new(48000), 1);
        meter.Add(Tones.Sine(48000, 1, 300, (0, 1.23)));
        meter.Reset();
        meter.Add(Tones.Piece(48000, 1, 3));
        Assert.Equal(Read(Tones.Piece(48000, 1, 3), 48000, 1), meter.Reading);
    }

    [Fact]
    public void What_is_no_sound_is_refused()
    {
        var meter = new LoudnessMeter(new(48000), 2);
        Assert.Contains("Frame 1 holds NaN", Assert.Throws<ArgumentException>(() => meter.Add([0, 0, 0, float.NaN])).Message);
        Assert.Throws<ArgumentException>(() => meter.Add([0, 0, 0]));
        Assert.Throws<ArgumentOutOfRangeException>(() => new LoudnessMeter(new(7999), 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => new LoudnessMeter(new(48000), 3));
    }

    [Fact]
    public void Measuring_takes_no_memory_but_for_its_list_of_blocks()
    {
        var meter = new LoudnessMeter(new(48000), 2);
        var block = Tones.Piece(48000, 2, 0.5);
        meter.Add(block);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var i = 0; i < 200; i++) meter.Add(block);
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 200_000);
    }

    [Theory]
    [InlineData(48000, 2)]
    [InlineData(48000, 1)]
    [InlineData(44100, 2)]
    public void An_outside_meter_reads_the_same(int rate, int channels)
    {
        if (!File.Exists(OutsideCoder.Program)) Assert.Skip("reason: ffmpeg, the outside meter, is missing");
        var piece = Tones.Piece(rate, channels, 25);
        var folder = Directory.CreateTempSubdirectory();
        try
        {
            var raw = Path.Combine(folder.FullName, "piece.f32");
            File.WriteAllBytes(raw, System.Runtime.InteropServices.MemoryMarshal.AsBytes<float>(piece).ToArray());
            var said = System.Text.Encoding.UTF8.GetString(OutsideCoder.Run("-v", "error", "-f", "f32le", "-ar", $"{rate}", "-ac", $"{channels}", "-i", raw,
                "-af", "ebur128=metadata=1:peak=true,ametadata=print:file=-", "-f", "null", "/dev/null"));
            var ours = Read(piece, rate, channels);
            Assert.Equal(Last(said, "lavfi.r128.I="), ours.Integrated!.Value.Value, 0.02);
            var peak = Enumerable.Range(0, channels).Max(c => Highest(said, $"lavfi.r128.true_peaks_ch{c}="));
            Assert.Equal(20 * Math.Log10(peak), ours.Peak!.Value.Value, 0.15);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static double Last(string said, string key) => Values(said, key).Last();

    private static double Highest(string said, string key) => Values(said, key).Max();

    private static IEnumerable<double> Values(string said, string key) =>
        said.Split('\n').Where(l => l.StartsWith(key, StringComparison.Ordinal)).Select(l => double.Parse(l[key.Length..], CultureInfo.InvariantCulture));

    private static LoudnessReading Read(float[] samples, int rate, int channels) => LoudnessMeter.Measure(Tones.Feed(samples, rate, channels), TestContext.Current.CancellationToken);

    private static double Loudness(float[] samples, int rate, int channels) => Read(samples, rate, channels).Integrated!.Value.Value;

    private static void Near((double, double, double, double, double) expected, (double, double, double, double, double) actual)
    {
        Assert.Equal(expected.Item1, actual.Item1, 1e-12);
        Assert.Equal(expected.Item2, actual.Item2, 1e-12);
        Assert.Equal(expected.Item3, actual.Item3, 1e-12);
        Assert.Equal(expected.Item4, actual.Item4, 1e-12);
        Assert.Equal(expected.Item5, actual.Item5, 1e-12);
    }
}
