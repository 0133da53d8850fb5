using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Tests.Planning;
using Seamwright.TestSound;

namespace Seamwright.Tests.Listening;

/// <summary>What sounds in the pauses hides silence, whether it has a pitch or not.</summary>
public class HumTests
{
    private const double Hum = -44;

    [Theory]
    [InlineData(50)]
    [InlineData(60)]
    public void A_hum_is_the_rooms_noise_and_puts_dips_in_doubt(double hz)
    {
        var plan = Planner.Plan(TestLines.Of("Bb2:2 r:1 F3:2~ G3:2 r:1 D3:2 r:1", 84), Catalogue.Find("tenor-straight")!).Value;
        var sound = SimpleSource.Render(plan, Playing.Clean(plan));
        var samples = sound.Samples.ToArray();
        var step = 2 * Math.PI * hz / sound.Rate.Value;
        for (var i = 0; i < samples.Length; i++) samples[i] += (float)(Math.Sqrt(2) * Math.Pow(10, Hum / 20) * Math.Sin(step * i));
        var take = Listener.Listen(new Recording(samples, sound.Rate), plan);
        Assert.All(take.Notes, n => Assert.True(n.Found));
        Assert.InRange(take.Room!.Noise.Value, Hum - 3, Hum + 3);
        Assert.Contains(Doubt.Noise, take.Changes[1].Doubts);
    }
}
