using System.Collections.Immutable;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Sound;
using Seamwright.Tests.Planning;

namespace Seamwright.Tests.Diagnoses;

/// <summary>A valve change whose tubes meet half way, played by the voice: what is heard is what the plan promised.</summary>
public class ValveMeetingHeardTests
{
    [Fact]
    public void With_the_touch_it_is_not_blamed_and_without_it_the_slide_is_heard()
    {
        var plan = PlanOf(null);
        Assert.All(plan.Changes, c => Assert.Equal(ChangeKind.SoftTongue, c.Kind));
        Assert.All(Heard(plan, FaultOrder.Clean), c => Assert.All(c.Verdicts, v => Assert.True(v is Verdict.Clean or Verdict.CannotTell, c.Findings[0].Basis)));
        Assert.All(Heard(plan, new FaultOrder(Fault.NoTongue, null, [0, 1, 2])), c => Assert.Contains(c.Verdicts, v => v is Verdict.Smear));
    }

    [Fact] // Written by hand into a part: nothing breaks there that could slide instead.
    public void Where_a_natural_slur_is_asked_for_nobody_is_told_that_it_should_have_broken() =>
        Assert.All(Heard(PlanOf(ChangeIntent.NaturalSlur), new FaultOrder(Fault.NoTongue, null, [0, 1, 2])), c => Assert.DoesNotContain(Verdict.Slid, c.Verdicts));

    private static Plan PlanOf(ChangeIntent? asked)
    {
        var line = TestLines.Of("D3:2~ F3:2~ D3:2~ F3:2");
        string[] settings = ["4", "F1", "4", "F1"];
        var wish = new PlanSettings { Locks = [.. settings.Select((p, i) => SettingPattern.TryParse(p, out var x) ? new NoteLock(i, x) : throw new ArgumentException(p))] };
        return Planner.Plan(line with { Notes = [.. line.Notes.Select(n => n with { Asked = n.Index > 0 ? asked : null })] }, Catalogue.Default, wish).Value;
    }

    private static ImmutableArray<ChangeJudgement> Heard(Plan plan, FaultOrder order)
    {
        var take = Voice.Render(plan, order.On(plan));
        return Diagnostician.Judge(Listener.Listen(new Recording(take.Samples, take.Rate), plan), plan).Changes;
    }
}
