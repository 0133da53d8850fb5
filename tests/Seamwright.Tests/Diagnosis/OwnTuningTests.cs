using Seamwright.Core.Diagnosis;
using Seamwright.Core.Listening;
using static Seamwright.Tests.Diagnoses.VerdictCases;
using DiagnosisOfTake = Seamwright.Core.Diagnosis.Diagnosis;

namespace Seamwright.Tests.Diagnoses;

/// <summary>A whole take off the plan's pitch is the instrument's tuning, not ninety wrong notes.</summary>
public class OwnTuningTests
{
    private const string SevenPitches = "Bb2:2~ C3:2~ D3:2~ Eb3:2~ F3:2~ G3:2~ Bb3:2";

    [Theory]
    [InlineData(-30, "30 cents flat", "25 mm further in")]
    [InlineData(30, "30 cents sharp", "26 mm further out")]
    public void A_take_off_as_a_whole_gets_one_line_for_the_tuning_slide_and_its_notes_are_clean(double cents, string how, string slide)
    {
        var judged = Played(_ => cents);
        Assert.All(judged.Notes, n => Assert.Equal([Verdict.Clean], n.Verdicts));
        var line = Assert.Single(judged.Summary.WorkOnFirst);
        Assert.Contains(how, line);
        Assert.Contains($"tuning slide about {slide}", line);
        Assert.DoesNotContain("out-of-tune", judged.Summary.NoteCounts.Keys.Select(v => v.WireName()));
    }

    [Fact] // 35 cents above a take that lies 30 below: 5 against the plan's pitch, and yet the one note that is wrong.
    public void A_note_is_judged_against_the_takes_own_pitch()
    {
        var judged = Played(i => i == 3 ? 5 : -30);
        Assert.Equal([3], judged.Notes.Where(n => n.Verdicts.Contains(Verdict.OutOfTune)).Select(n => n.Index));
        Assert.Contains("35 cents sharp", judged.Notes[3].Advice);
        Assert.InRange(judged.Notes[3].SlideCorrection!.Value.Millimetres, 30, 40);
    }

    [Fact]
    public void Notes_that_do_not_agree_on_a_pitch_are_judged_against_the_plans()
    {
        var judged = Played(i => (i % 2 == 0 ? -1 : 1) * 30);
        Assert.All(judged.Notes, n => Assert.Contains(Verdict.OutOfTune, n.Verdicts));
        Assert.DoesNotContain(judged.Summary.WorkOnFirst, w => w.Contains("tuning slide", StringComparison.Ordinal));
    }

    [Fact] // The player may have one note wrong all along: no majority of pitches says that the instrument is.
    public void Too_few_pitches_do_not_tell_the_tuning()
    {
        var judged = Played(_ => -30, "Bb2:2~ C3:2~ Bb2:2~ C3:2");
        Assert.All(judged.Notes, n => Assert.Contains(Verdict.OutOfTune, n.Verdicts));
    }

    [Fact] // B flat in first position: the slide is in already.
    public void No_slide_is_told_to_go_where_there_is_none()
    {
        var judged = Played(_ => -30, "Bb2:2~ C3:2~ Bb2:2~ C3:2").Notes[0];
        Assert.Null(judged.SlideCorrection);
        Assert.Contains("cannot go further in", judged.Advice);
    }

    private static DiagnosisOfTake Played(Func<int, double> cents, string notes = SevenPitches)
    {
        var plan = PlanOf(notes);
        HeardNote Heard(HeardNote n) => n with { Cents = new(cents(n.Index)), CentsBounds = new(new(cents(n.Index) - 1.3), new(cents(n.Index) + 1.3)) };
        var clean = plan.Changes.Select(c => Fine() with { Index = c.Index, Glide = Ms(0), AudibleGlide = Ms(0) });
        return Diagnostician.Judge(TakeOf([.. clean], plan, Heard), plan);
    }
}
