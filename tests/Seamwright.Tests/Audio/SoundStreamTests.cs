using Seamwright.Audio;
using Seamwright.Audio.Decoding;

namespace Seamwright.Tests.Audio;

public class SoundStreamTests
{
    private const int Rate = 8000;

    [Fact]
    public void A_channel_that_fails_later_is_left_for_the_other_one_and_told_when()
    {
        // From 40 s on the left one, which was like the right, is silent; it is looked at every ten seconds.
        using var stream = Stream(new Played(2, 80L * Rate, (c, t) => c == 0 && t >= 40 * Rate ? 0 : 0.3f * MathF.Sin(t)));
        var heard = All(stream);
        Assert.Matches("other channels from about 4[0-9] s", stream.Problems.Single().What);
        Assert.Equal(0.3f, heard[(10 * Rate)..(20 * Rate)].Max(), 0.01);
        Assert.Equal(0.15f, heard[(42 * Rate)..(48 * Rate)].Max(), 0.01);
        Assert.Equal(0.3f, heard[(65 * Rate)..].Max(), 0.01);
    }

    [Fact]
    public void The_passage_to_another_channel_makes_no_click()
    {
        using var stream = Stream(new Played(2, 80L * Rate, (c, t) => c == 0 && t >= 40 * Rate ? 0 : 0.3f * MathF.Sin(t / 40f)));
        var heard = All(stream);
        var steepest = Enumerable.Range(45 * Rate, 30 * Rate).Max(i => Math.Abs(heard[i + 1] - heard[i]));
        Assert.InRange(steepest, 0, 0.3f / 40 * 1.1f);
    }

    [Fact]
    public void Silence_before_the_playing_does_not_decide_about_the_channels()
    {
        // 15 s of unlike hiss, 20 dB louder on the right, then one sound on both.
        var random = new Random(2);
        using var stream = Stream(new Played(2, 60L * Rate, (c, t) => t < 15 * Rate ? (c + 0.1f) * 0.001f * (random.NextSingle() - 0.5f) : 0.3f * MathF.Sin(t)));
        var heard = All(stream);
        Assert.Empty(stream.Problems);
        Assert.Equal(0.3f, heard.Max(), 0.01);
    }

    [Fact]
    public void A_decoder_that_throws_ends_the_sound_with_a_message_and_nothing_more()
    {
        using var stream = Stream(new Played(1, 80L * Rate, (_, t) => t == 10 * Rate ? throw new InvalidDataException() : 0.3f * MathF.Sin(t)));
        var heard = All(stream);
        Assert.InRange(heard.Length, 9 * Rate, 10 * Rate);
        Assert.Contains($"is damaged beyond {heard.Length / (double)Rate:0.00} s", stream.Problems.Single().What);
        Assert.Equal(0, stream.Read(new float[10]));
    }

    [Fact]
    public void Overload_is_counted_across_the_borders_of_blocks()
    {
        // Two samples at full scale on either side of the border of a block.
        using var stream = Stream(new Played(1, 20_000, (_, t) => t is >= 4094 and <= 4097 ? 1 : 0.3f * MathF.Sin(t)));
        All(stream);
        Assert.Contains("overloaded in 1 place, the first at 0.51 s", stream.Problems.Single().What);
    }

    internal static SoundStream Stream(SampleSource source) => new(source, new ProblemLog("take"), AudioLimits.Default, "test", file: null, TestContext.Current.CancellationToken);

    private static float[] All(SoundStream stream)
    {
        var all = new List<float>();
        var buffer = new float[5000];
        for (int read; (read = stream.Read(buffer)) > 0;) all.AddRange(buffer[..read]);
        return [.. all];
    }

    internal sealed class Played(int channels, long frames, Func<int, long, float> sound) : SampleSource
    {
        private long frame;

        public int At { get; init; } = SoundStreamTests.Rate;

        public override int Channels => channels;

        public override int Rate => At;

        public override int Read(Span<float> interleaved)
        {
            var count = 0;
            for (; count + channels <= interleaved.Length && frame < frames; frame++)
            {
                for (var c = 0; c < channels; c++) interleaved[count++] = sound(c, frame);
            }

            return count;
        }
    }
}
