using CsCheck;
using Seamwright.Core.Sound.Loudness;

namespace Seamwright.Tests.Sound.Loudness;

public class LevellerTests
{
    [Theory]
    [InlineData(48000, 2, 0.1)]
    [InlineData(44100, 1, 1)]
    [InlineData(48000, 1, 30)]
    public void A_piece_with_room_takes_a_gain_and_nothing_else(int rate, int channels, double loud)
    {
        var piece = Tones.Piece(rate, channels, 20).Select(x => (float)(x * loud)).ToArray();
        var levelled = Level(piece, rate, channels, new() { Target = new(-24) });
        var samples = Tones.All(levelled.Sound);
        Assert.Empty(levelled.Remarks);
        Assert.Equal(0, levelled.Reduction.Value);
        Assert.Equal(-24, Measured(samples, rate, channels).Integrated!.Value.Value, 0.05);
        Assert.Equal(levelled.After, Measured(samples, rate, channels));
        var factor = (float)Math.Pow(10, levelled.Gain.Value / 20);
        for (var i = 0; i < piece.Length; i++) Assert.Equal(piece[i] * factor, samples[i], 1e-5 * loud);
    }

    [Theory]
    [InlineData(48000)]
    [InlineData(44100)]
    [InlineData(8000)]
    public void Clicks_are_pressed_under_the_ceiling_and_the_target_is_met(int rate)
    {
        var levelled = Level(Tones.Clicks(rate, 0.1, 0.7, 12), rate, 1, new() { Target = new(-20) });
        var after = Measured(Tones.All(levelled.Sound), rate, 1);
        Assert.InRange(levelled.Reduction.Value, 0.5, 6.1);
        Assert.Contains("were pressed down by up to", Assert.Single(levelled.Remarks).What);
        Assert.InRange(after.Integrated!.Value.Value, -20.1, -19.9);
        Assert.InRange(after.Peak!.Value.Value, -1.3, -1);
        Assert.Equal(levelled.After, after);
    }

    [Fact]
    public void Where_the_peaks_forbid_the_target_it_says_what_was_reached()
    {
        var levelled = Level(Tones.Clicks(48000, 0.02, 0.9, 12), 48000, 1);
        var after = Measured(Tones.All(levelled.Sound), 48000, 1);
        Assert.InRange(after.Peak!.Value.Value, -1.3, -1);
        Assert.True(after.Integrated!.Value.Value < -20);
        Assert.InRange(levelled.Reduction.Value, 5, 6.1);
        Assert.Contains(levelled.Remarks, r => r.What.StartsWith($"is {after.Integrated} and not -18.0 LUFS", StringComparison.Ordinal) && r.Hint.Length > 0);
    }

    [Fact]
    public void Without_the_limiter_the_whole_is_made_softer()
    {
        var piece = Tones.Clicks(48000, 0.1, 0.9, 5);
        var levelled = Level(piece, 48000, 1, new() { MostReduction = new(0) });
        var samples = Tones.All(levelled.Sound);
        Assert.Equal(-1, Measured(samples, 48000, 1).Peak!.Value.Value, 0.002);
        Assert.True(Measured(samples, 48000, 1).Peak!.Value.Value <= -1);
        var factor = (float)Math.Pow(10, levelled.Gain.Value / 20);
        for (var i = 0; i < piece.Length; i++) Assert.Equal(piece[i] * factor, samples[i], 1e-6);
        Assert.Single(levelled.Remarks);
    }

    [Fact]
    public void The_limiter_keeps_time_and_leaves_alone_what_is_far_from_a_peak()
    {
        // One stroke at 2 s; a second before and two after it the sound is the piece under its gain.
        var piece = Tones.Sine(48000, 1, 233.08, (-14, 5));
        piece[96000] = 0.95f;
        var levelled = Level(piece, 48000, 1, new() { Target = new(-14) });
        var samples = Tones.All(levelled.Sound);
        Assert.Equal(piece.Length, samples.Length);
        Assert.InRange(levelled.Reduction.Value, 0.5, 6);
        var factor = (float)Math.Pow(10, levelled.Gain.Value / 20);
        for (var i = 0; i < piece.Length; i++)
        {
            if (i is < 95_000 or > 190_000) Assert.Equal(piece[i] * factor, samples[i], 1e-5);
        }

        Assert.Equal(96000, Array.IndexOf(samples, samples.Max()));
    }

    [Fact]
    public void The_limiter_takes_both_channels_alike_and_moves_without_steps()
    {
        var piece = new float[2 * 96000];
        for (var i = 0; i < 96000; i++) (piece[2 * i], piece[(2 * i) + 1]) = (i is > 48000 and < 48400 ? 0.9f * MathF.Pow(MathF.Sin((i - 48000) * MathF.PI / 400), 2) * MathF.Sin(i / 3f) : 0, 0.25f);
        var feed = new LevelledFeed(Tones.Feed(piece, 48000, 2), 1, 0.5, LevellingSettings.Default);
        var gains = Tones.All(feed).Where((_, i) => i % 2 == 1).Select(x => x / 0.25f).ToArray();
        Assert.Equal(0.5 / 0.9, gains.Min(), 0.02);

        // From 1 to 0.55 within 5 ms, first and last softly: no step is steeper than twice the mean slope.
        Assert.InRange(gains.Zip(gains.Skip(1), (a, b) => a - b).Max(), 0.001, 2 * 0.45 / 240);
        Assert.All(gains[..47700], g => Assert.Equal(1, g, 1e-6));
    }

    [Fact]
    public void Begun_again_it_gives_the_same()
    {
        var levelled = Level(Tones.Clicks(48000, 0.1, 0.8, 3), 48000, 1);
        var first = Tones.All(levelled.Sound, 5);
        Assert.Equal(3 * 48000, first.Length);
        levelled.Sound.Restart();

        // Left in the middle of a stroke, while the limiter holds it down.
        for (var read = 0; read < 12_100;) read += levelled.Sound.Read(new float[100]);
        levelled.Sound.Restart();
        Assert.Equal(first, Tones.All(levelled.Sound, 3000));
    }

    [Fact]
    public void Silence_stays_silence_and_says_so()
    {
        var levelled = Level(new float[48000], 48000, 1);
        Assert.Equal(48000, Tones.All(levelled.Sound).Length);
        Assert.Contains("cannot be measured", Assert.Single(levelled.Remarks).What);
        var blip = Level(Tones.Sine(48000, 1, 500, (3, 0.1)), 48000, 1);
        Assert.InRange(blip.After.Peak!.Value.Value, -1.01, -1);
    }

    [Fact]
    public void A_setting_beyond_its_range_is_a_callers_fault()
    {
        var wrong = new LevellingSettings { Target = new(3), Release = new(-1) };
        Assert.Equal(2, wrong.Validate().Length);
        Assert.Contains("the target is 3 LUFS", Assert.Throws<ArgumentException>(() => Level(new float[10], 48000, 1, wrong)).Message);
    }

    [Fact]
    public void No_piece_gets_a_peak_over_the_ceiling_or_changes_its_length() =>
        Gen.Select(Gen.Int[1, 2], Gen.Double[0.001, 3], Gen.Double[0.01, 2], Gen.UInt, Gen.Int[0, 40_000]).Sample((channels, loud, burst, seed, frames) =>
        {
            var piece = Tones.Piece(22050, channels, frames / 22050.0, seed);
            var random = new Random((int)(seed >> 1));
            for (var i = 0; i < piece.Length; i++) piece[i] = (float)((piece[i] * loud) + (random.Next(3000) == 0 ? burst * (random.NextDouble() - 0.5) : 0));
            var levelled = Level(piece, 22050, channels);
            var samples = Tones.All(levelled.Sound);
            Assert.Equal(piece.Length, samples.Length);
            Assert.False(Measured(samples, 22050, channels).Peak?.Value > -1);
        }, iter: 25);

    [Fact]
    public void The_lowest_of_a_window_is_what_a_search_finds() =>
        Gen.Select(Gen.Int[1, 9], Gen.Double[0, 1].Array[0, 60]).Sample((length, values) =>
        {
            var lowest = new SlidingLowest(length);
            for (var i = 0; i < values.Length; i++) Assert.Equal(values[Math.Max(0, i - length + 1)..(i + 1)].Min(), lowest.Next(values[i]));
        }, iter: 200);

    private static LevelledSound Level(float[] samples, int rate, int channels, LevellingSettings? settings = null) =>
        Leveller.Level(Tones.Feed(samples, rate, channels), settings, TestContext.Current.CancellationToken);

    private static LoudnessReading Measured(float[] samples, int rate, int channels) => LoudnessMeter.Measure(Tones.Feed(samples, rate, channels), TestContext.Current.CancellationToken);
}
