using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Tests.Planning;

namespace Seamwright.Tests.Listening;

/// <summary>A held note's drift and how far it is known, on tones of exactly known pitch.</summary>
public class DriftTests
{
    [Fact]
    public void An_even_drift_is_known_to_a_few_cents()
    {
        var note = Heard(t => 30 * (t - 1) / 2);
        Assert.InRange(note.Drift!.Value.Value, 24, 30); // the steady part is a little shorter than the note
        Assert.InRange((note.DriftBounds!.Value.High - note.DriftBounds.Value.Low).Value, 0.1, 6);
    }

    [Fact] // 40 cents for the last tenth of a second: no drift, and the line through it says so.
    public void A_pitch_that_gives_way_at_the_end_is_not_known_to_drift()
    {
        var note = Heard(t => t > 2.75 ? 40 : 0);
        Assert.InRange(note.DriftBounds!.Value.Low.Value, -60, 9);
    }

    [Fact]
    public void A_wavering_pitch_is_not_known_to_drift()
    {
        var note = Heard(t => 12 * Math.Sin(2 * Math.PI * 0.7 * (t - 2)));
        Assert.InRange(note.Drift!.Value.Value, 8, 13);
        Assert.InRange(note.DriftBounds!.Value.Low.Value, -60, 5);
    }

    private static HeardNote Heard(Func<double, double> cents)
    {
        const int Rate = 48_000;
        var plan = Planner.Plan(TestLines.Of("Bb3:4"), Catalogue.Default).Value;
        var samples = new float[4 * Rate];
        var phase = 0.0;
        for (var i = Rate; i < 3 * Rate; i++)
        {
            phase += 2 * Math.PI * 233.082 * Math.Pow(2, cents(i / (double)Rate) / 1200) / Rate;
            samples[i] = (float)Enumerable.Range(1, 6).Sum(k => 0.1 / k * Math.Sin(k * phase));
        }

        return Listener.Listen(new Recording(samples, new(Rate)), plan).Notes[0];
    }
}
