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
        var plan = PlanOf("D3:2~ F3:2~ D3:2~ F3:2", "4 F1 4 F1", null);
        Assert.All(plan.Changes, c => Assert.Equal(ChangeKind.SoftTongue, c.Kind));
        Assert.All(Heard(plan, Playing.Clean(plan)), c => Assert.All(c.Verdicts, v => Assert.True(v is Verdict.Clean or Verdict.CannotTell, c.Findings[0].Basis)));
        Assert.All(Heard(plan, Untongued(plan)), c => Assert.Contains(c.Verdicts, v => v is Verdict.Smear));
    }

    [Theory] // A natural slur written into a part by hand: nothing breaks there that could slide instead.
    [InlineData("D4:2~ G4:2", "openp7 Fp9")]
    [InlineData("E4:2~ F#4:2", "Fp10 openp8")]
    public void Where_a_natural_slur_is_asked_for_nobody_is_told_that_it_should_have_broken(string notes, string settings)
    {
        var plan = PlanOf(notes, settings, ChangeIntent.NaturalSlur);
        var change = Heard(plan, Untongued(plan)).Single();
        Assert.DoesNotContain(Verdict.Slid, change.Verdicts);
        Assert.Contains(Verdict.Smear, change.Verdicts);
    }

    private static Plan PlanOf(string notes, string settings, ChangeIntent? asked)
    {
        var line = TestLines.Of(notes);
        var wish = new PlanSettings { Locks = [.. settings.Split(' ').Select((p, i) => SettingPattern.TryParse(p, out var x) ? new NoteLock(i, x) : throw new ArgumentException(p))] };
        return Planner.Plan(line with { Notes = [.. line.Notes.Select(n => n with { Asked = n.Index > 0 ? asked : null })] }, Catalogue.Default, wish).Value;
    }

    private static Performance Untongued(Plan plan) =>
        Playing.Clean(plan) with { Changes = [.. plan.Changes.Select(c => Playing.Of(plan, c with { Intent = null }, Fault.NoTongue))] };

    private static ImmutableArray<ChangeJudgement> Heard(Plan plan, Performance performance)
    {
        var take = Voice.Render(plan, performance);
        return Diagnostician.Judge(Listener.Listen(new Recording(take.Samples, take.Rate), plan), plan).Changes;
    }
}
