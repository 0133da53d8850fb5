using Seamwright.Core;
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
    [InlineData(43)]
    [InlineData(73)]
    public void A_hum_is_the_rooms_noise_and_puts_dips_in_doubt(double hz)
    {
        var take = Heard(i => Math.Sin(2 * Math.PI * hz * i));
        Assert.InRange(take.Room!.Noise.Value, Hum - 3, Hum + 3);
        Assert.Contains(Doubt.Noise, take.Changes[1].Doubts);
        Assert.DoesNotContain(take.Problems, p => p.What.Contains("hums"));
    }

    // Four lines at a frequency as far off as mains are.
    [Theory]
    [InlineData(50.06)]
    [InlineData(59.93)]
    public void The_mains_hum_is_taken_out_and_said(double hz)
    {
        var take = Heard(i => Enumerable.Range(1, 4).Sum(k => Math.Pow(0.5, k) * Math.Sin((2 * Math.PI * hz * k * i) + k)));
        Assert.InRange(take.Room!.Noise.Value, -120, Hum - 20);
        Assert.DoesNotContain(Doubt.Noise, take.Changes[1].Doubts);
        Assert.Contains(take.Problems, p => p.What.Contains($"hums at {hz:0.0} Hz") && p.Severity == Severity.Note);
    }

    // A held G1 of 49 Hz, a cent or two under the mains, is a note.
    [Fact]
    public void A_low_note_is_no_hum()
    {
        var sound = new SampleStore();
        sound.Append([.. Enumerable.Range(0, 5 * FinePitch.Rate).Select(i => (float)((i > FinePitch.Rate && i < 2 * FinePitch.Rate ? 0.5 : 0.05) * Math.Sin(2 * Math.PI * 49 * i / FinePitch.Rate)))]);
        Assert.Null(HumTaker.TakeOut(sound));
    }

    private static Take Heard(Func<double, double> hum)
    {
        var plan = Planner.Plan(TestLines.Of("Bb2:2 r:1 F3:2~ G3:2 r:1 D3:2 r:1", 84), Catalogue.Find("tenor-straight")!).Value;
        var sound = SimpleSource.Render(plan, Playing.Clean(plan));
        var samples = sound.Samples.ToArray();
        for (var i = 0; i < samples.Length; i++) samples[i] += (float)(Math.Sqrt(2) * Math.Pow(10, Hum / 20) * hum(i / (double)sound.Rate.Value));
        var take = Listener.Listen(new Recording(samples, sound.Rate), plan);
        Assert.All(take.Notes, n => Assert.True(n.Found));
        return take;
    }
}
