using Seamwright.Core.Diagnosis;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Listening;

/// <summary>An arm that goes against the pitch and is slow about it: the note breaks at once, and slides before and after.</summary>
public class SlideBesideTests
{
    // Contrary motion: a position or more out while the pitch goes up a partial.
    private const string Part = "F3:2~ G3:2~ F3:2~ G3:2~ F3:2";

    [Theory]
    [InlineData(600)]
    [InlineData(480)]
    public void A_slow_arm_is_a_smear_though_the_note_breaks_at_once(int move)
    {
        var (take, diagnosis, plan) = Heard(move);
        Assert.All(plan.Changes, c => Assert.Equal(ChangeKind.NaturalSlur, c.Kind));
        foreach (var change in take.Changes)
        {
            Assert.True(change.Glide!.Value.Milliseconds < 40, "the note itself breaks at once");
            var slide = Assert.IsType<HeardSlide>(change.SlideBefore);

            // Half the way of a minimum-jerk movement, from a tenth of it on, takes .31 of the whole.
            Assert.InRange(slide.Audible.Milliseconds, 0.31 * move * 0.85, 0.31 * move * 1.15);
            Assert.InRange(0.31 * move, slide.Bounds.Low.Milliseconds - 12, slide.Bounds.High.Milliseconds + 12);
        }

        Assert.All(diagnosis.Changes, c => Assert.Contains(Verdict.Smear, c.Verdicts));
        Assert.Contains("the note breaks the slide is heard", diagnosis.Changes[0].Findings.Single(f => f.Verdict == Verdict.Smear).Basis, StringComparison.Ordinal);
        Assert.Contains("the note broke", diagnosis.Changes[0].Advice, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(160)]
    [InlineData(210)]
    public void At_the_planned_pace_it_is_none(int move) => Assert.All(Heard(move).Diagnosis.Changes, c => Assert.Equal([Verdict.Clean], c.Verdicts));

    [Fact]
    public void A_lip_slur_on_a_still_slide_has_no_slide_to_hear()
    {
        var plan = AttemptTape.PlanOf("Bb2:2~ F3:2~ Bb3:2~ F3:2~ Bb2:2", 80);
        var sound = Voice.Render(plan, Playing.Clean(plan));
        var take = Listener.Listen(new Recording(sound.Samples, sound.Rate), plan);
        Assert.All(take.Changes, c => Assert.Null(c.SlideBefore));
        Assert.All(take.Changes, c => Assert.Null(c.SlideAfter));
    }

    private static (Take Take, Diagnosis Diagnosis, Plan Plan) Heard(int move)
    {
        var plan = AttemptTape.PlanOf(Part, 60);
        var playing = Playing.Clean(plan);
        playing = playing with { Changes = [.. playing.Changes.Select(c => c with { Move = Seconds.FromMilliseconds(move), Dip = new(2) })] };
        var sound = Voice.Render(plan, playing);
        var take = Listener.Listen(new Recording(sound.Samples, sound.Rate), plan);
        return (take, Diagnostician.Judge(take, plan), plan);
    }
}
