using Seamwright.Core.Listening;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Listening;

/// <summary>A take that begins and ends with a note has no moment of silence to read the room's noise in.</summary>
public class ValleyNoiseTests
{
    private const double RestlessFrom = 0.4;

    [Theory]
    [InlineData(30)]
    [InlineData(25)]
    [InlineData(20)]
    [InlineData(15)]
    public void Noise_is_read_between_the_harmonics_where_no_rest_shows_it(double below)
    {
        var (samples, rate) = Restless();
        var power = samples.Average(x => (double)x * x) * Math.Pow(10, -below / 10);
        var random = new Random(5);
        var noisy = samples.Select(x => (float)(x + (Math.Sqrt(power * rate.Value / 2 / 6000) * MathNet.Numerics.Distributions.Normal.Sample(random, 0, 1)))).ToArray();
        var heard = Listener.Listen(new Recording(noisy, rate), Plan).Room!;

        // White noise of that power within the 6 kHz that are listened to.
        Assert.InRange(heard.ToneToNoise.Value, below - 2.5, below + 3.5);
    }

    [Fact]
    public void A_clean_take_without_a_rest_is_not_noisy()
    {
        var (samples, rate) = Restless();
        Assert.True(Listener.Listen(new Recording(samples, rate), Plan).Room!.ToneToNoise.Value > 34);
    }

    private static readonly Core.Planning.Plan Plan = AttemptTape.PlanOf("Bb2:2~ C3:2~ D3:2~ F3:2~ Bb3:2~ F3:2~ D3:2~ Bb2:2", 90);

    private static (float[] Samples, SampleRate Rate) Restless()
    {
        var sound = Voice.Render(Plan, Playing.Clean(Plan));
        var samples = sound.Samples.ToArray();
        var (first, last) = (Array.FindIndex(samples, x => Math.Abs(x) > 0.01), Array.FindLastIndex(samples, x => Math.Abs(x) > 0.01));
        var edge = (int)(RestlessFrom * sound.Rate.Value);
        return (samples[(first + edge)..(last - edge)], sound.Rate);
    }
}
