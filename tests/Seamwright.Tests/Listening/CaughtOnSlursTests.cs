using Seamwright.Core.Diagnosis;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;
using Seamwright.Tests.Diagnoses;
using Seamwright.Tests.Planning;

namespace Seamwright.Tests.Listening;

/// <summary>Wrong partials on valve slurs and natural slurs: a fitted way explains none, and none lies too high or too low to be read.</summary>
public class CaughtOnSlursTests
{
    [Theory] // A valve slur, a natural slur over the partial in between, one above both notes, twice the new note, below both.
    [InlineData("C3:1~ F3:1", 4)]
    [InlineData("C#4:1~ F#3:1", 5)]
    [InlineData("D4:1~ Bb3:1", 6)]
    [InlineData("C3:1~ Bb2:1", 4)]
    [InlineData("F3:1~ Bb3:1", 2)]
    public void A_long_wrong_partial_is_told_by_name_and_length(string notes, int partial)
    {
        var plan = Planner.Plan(TestLines.Of(notes), Catalogue.Find("tenor-f")!, new PlanSettings()).Value;
        var change = plan.Changes[0];
        var clean = Playing.Clean(plan);
        var cracked = Judged(plan, clean with { Changes = [clean.Changes[0] with { Crack = new(partial, Seconds.FromMilliseconds(120)) }] }, out var caught);
        Assert.NotEqual(ChangeKind.SoftTongue, change.Kind);
        Assert.Contains(Verdict.Cracked, cracked.Verdicts);
        Assert.InRange(Math.Abs(caught.CaughtPitch!.Value.Above(plan.Instrument.Sounding(plan.Notes[1].Setting!.Side, partial, plan.Notes[1].Setting!.Travel)).Value), 0, 40);
        Assert.InRange(caught.CaughtFor!.Value.Milliseconds, 45, 150);
        Assert.Contains("for ", cracked.Findings.First(f => f.Verdict == Verdict.Cracked).Basis);
        Assert.DoesNotContain(Verdict.Cracked, Judged(plan, clean, out var heard).Verdicts);
        Assert.Null(heard.CaughtPitch);
    }

    [Fact]
    public void The_words_name_the_note()
    {
        var caught = VerdictCases.Fine() with { CaughtPitch = new(196), CaughtFor = Seconds.FromMilliseconds(80) };
        Assert.Equal("a wrong partial is caught on the way: G3 (196 Hz), for 80 ms", VerdictCases.Judge(caught).Findings.First(f => f.Verdict == Verdict.Cracked).Basis);
    }

    [Fact] // It stands still beside its jump wherever it likes.
    public void A_fitted_way_with_a_jump_explains_nothing_that_is_reached_by_jumps()
    {
        var held = new CaughtFinder.Held(245, 1, 1.1, false, Jumped: true);
        var way = new FittedGlide(new GlideShape(0.97, 0.06, 0.55, 1.11), 293.6, 196);
        Assert.InRange(Math.Abs(1200 * Math.Log2(way.At(1.05) / 245)), 0, 60);
        Assert.False(CaughtFinder.IsOn(held, way));
        Assert.True(CaughtFinder.IsOn(held with { Jumped = false }, way));
    }

    private static ChangeJudgement Judged(Plan plan, Performance performance, out HeardChange heard)
    {
        var take = Voice.Render(plan, performance);
        var listened = Listener.Listen(new Recording(take.Samples, take.Rate), plan);
        heard = listened.Changes[0];
        return Diagnostician.Judge(listened, plan).Changes[0];
    }
}
