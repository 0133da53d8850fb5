using Seamwright.Core.Listening;
using Seamwright.Core.Sound;

namespace Seamwright.Tests.Listening;

public sealed class RestTests
{
    [Theory] // Against the curves that were played; a silence's edge is heard within its two windows.
    [InlineData("Bb3:1 r:1 G3:1 r:2 Bb3:1", 100)]
    [InlineData("C3:2 r:1 F3:2 r:1/2 C3:2", 72)]
    public void A_rest_of_any_length_is_measured_and_its_interval_holds_it(string notes, double tempo)
    {
        var plan = AttemptTape.PlanOf(notes, tempo);
        var take = Voice.Render(plan, Playing.Clean(plan));
        var heard = Listener.Listen(new Recording(take.Samples, take.Rate), plan);
        foreach (var truth in take.Truth.Changes)
        {
            var bounds = heard.Changes[truth.Index].GapBounds!.Value;
            Assert.InRange(truth.Gap!.Value.Value, bounds.Low.Value, bounds.High.Value);
            Assert.InRange(bounds.High.Value - bounds.Low.Value, 0, 0.06 + (0.15 * truth.Gap!.Value.Value));
        }
    }
}
