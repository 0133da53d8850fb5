using Seamwright.Core.Diagnosis;
using Seamwright.Core.Listening;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;
using static Seamwright.Tests.Diagnoses.VerdictCases;

namespace Seamwright.Tests.Diagnoses;

/// <summary>What an exercise asks, against the same figures.</summary>
public class IntentTests
{
    private static readonly HeardChange Slow = Touched(0.4) with { DipCentre = null, Glide = Ms(900), AudibleGlide = Ms(900), GlideSemitones = -2, GlideCentre = new(1.4), Broke = false };

    [Fact]
    public void A_slow_slide_is_not_blamed_for_its_smear_and_legato_is()
    {
        Assert.Equal([Verdict.Clean], Judge(Slow, intent: ChangeIntent.SlowSlide).Verdicts);
        Assert.Contains(Verdict.Smear, Judge(Slow).Verdicts);
    }

    [Theory] // Two seconds were there for it, a quarter of them is the least.
    [InlineData(300, 290, 310, "TooShortSlide")]
    [InlineData(480, 440, 520, "CannotTell")]
    [InlineData(700, 690, 710, "Clean")]
    public void A_slow_slide_takes_its_time(double glide, double low, double high, string expected)
    {
        var judged = Judge(Slow with { Glide = Ms(glide), GlideBounds = MsBounds(low, high) }, intent: ChangeIntent.SlowSlide);
        Assert.Equal(expected, string.Join(",", judged.Verdicts));
    }

    [Fact]
    public void A_slow_slide_that_breaks_or_stops_is_blamed()
    {
        var broke = Judge(Slow with { Broke = true, Break = new PartialBreak(new(1.9), -1.6), Glide = Ms(8) }, intent: ChangeIntent.SlowSlide);
        Assert.Equal([Verdict.Broke], broke.Verdicts);
        Assert.Contains("jumps by 1.6 semitones", broke.Findings[0].Basis);
        var stopped = Judge(Slow with { Gap = Ms(60), EarGap = Ms(60), EarDip = new(30) }, intent: ChangeIntent.SlowSlide);
        Assert.Equal([Verdict.AirStopped], stopped.Verdicts);
    }

    [Theory] // A tongue that shuts sounds as air that stops: where none was asked for, both are said.
    [InlineData(ChangeIntent.NaturalSlur, AcrossPartials, "and leave the tongue out.")]
    [InlineData(ChangeIntent.SoftTongue, OnOnePartial, "let only the tip of the tongue touch.")]
    public void Sound_that_stops_is_told_by_what_was_asked(ChangeIntent asked, string notes, string expected) =>
        Assert.EndsWith(expected, Judge(Slow with { Gap = Ms(60), EarGap = Ms(60), EarDip = new(30) }, notes, asked).Advice);

    [Theory]
    [InlineData(null, 1)]
    [InlineData(ChangeIntent.FastSlide, 1)]
    [InlineData(ChangeIntent.SlowSlide, 0)]
    public void A_slow_slide_takes_the_pitch_along_and_that_is_no_remark(ChangeIntent? asked, int remarks) =>
        Assert.Equal(remarks, Whole(Slow, PlanOf(OnOnePartial, asked), n => n with { Drift = new(-30) }).Notes[1].Remarks.Length);

    [Theory]
    [InlineData(1, "The arm moved evenly.")]
    [InlineData(3, "The arm did not move evenly: it was slow at first, then fast.")]
    [InlineData(0.33, "The arm did not move evenly: it was fast at first, then slow.")]
    public void A_slow_slide_tells_whether_the_arm_moved_evenly(double power, string expected)
    {
        var arm = new HeardArm
        {
            Start = new(0.5),
            End = new(2),
            From = new(0),
            To = new(18),
            PeakSpeed = 0.2,
            Path = [.. Enumerable.Range(0, 301).Select(i => i % 50 == 7 ? null : (Centimetres?)new Centimetres(18 * Math.Pow(i / 300.0, power)))],
            PathStart = new(0.5),
        };
        Assert.Contains(expected, Judge(Slow with { Arm = arm }, intent: ChangeIntent.SlowSlide).Remarks);
    }

    [Theory] // The break's own dip lies about the break; from 20 ms on two events are heard one after the other.
    [InlineData(-38, 8, 10, "TongueHeard")]
    [InlineData(-24, 12, 10, "CannotTell")]
    [InlineData(-14, 12, 10, "Clean")]
    [InlineData(38, 8, 10, "Clean")] // What comes after the break has not made the new note speak.
    [InlineData(-38, 8, 2, "Clean")] // A level that sinks a little is no touch.
    public void A_tongue_before_the_break_is_heard_where_none_is_needed(double off, double doubt, double dip, string expected)
    {
        var heard = Touched(dip) with { DipCentre = new(2 + (off / 1000)), GlideCentre = new(2), Glide = Ms(4), Broke = true, GlideSemitones = 0.3, TongueOffsetBounds = MsBounds(off - doubt, off + doubt) };
        Assert.Equal(expected, string.Join(",", Judge(heard, AcrossPartials).Verdicts));
        Assert.Equal(expected, string.Join(",", Judge(heard, AcrossPartials, ChangeIntent.NaturalSlur).Verdicts));
        Assert.DoesNotContain(Verdict.TongueHeard, Judge(heard with { CaughtPitch = new(350) }, AcrossPartials).Verdicts);
        Assert.Equal([Verdict.Clean], Judge(heard with { Doubts = [Doubt.Echo] }, AcrossPartials).Verdicts);
    }

    [Theory] // The plan moves over two positions in 185 ms, of which the glide is about half.
    [InlineData(90, 0.5, "Clean")]
    [InlineData(200, 0.5, "Crept")]
    [InlineData(90, 9, "TongueHeard")]
    [InlineData(200, 9, "TongueHeard,Crept")]
    public void A_fast_slide_is_short_and_without_a_tongue(double glide, double dip, string expected)
    {
        var heard = Touched(dip) with { Glide = Ms(glide), GlideBounds = MsBounds(glide - 4, glide + 4), AudibleGlide = Ms(glide), GlideSemitones = -2, Broke = false };
        Assert.Equal(expected, string.Join(",", Judge(heard, intent: ChangeIntent.FastSlide).Verdicts));
    }

    [Fact]
    public void A_soft_tongue_that_is_not_there_is_missed_even_where_no_slide_is_heard()
    {
        var heard = Touched(0.3) with { AudibleGlide = Ms(20), Glide = Ms(30), GlideSemitones = -2 };
        Assert.Equal([Verdict.NoTongue], Judge(heard, intent: ChangeIntent.SoftTongue).Verdicts);
        Assert.Equal([Verdict.Clean], Judge(heard).Verdicts);
    }

    [Theory]
    [InlineData(12, true, "Clean")]
    [InlineData(19.5, true, "TongueHeard")]
    [InlineData(6, false, "Slid")]
    public void A_natural_slur_breaks_by_itself_without_a_deep_dip(double dip, bool broke, string expected)
    {
        var heard = Touched(dip) with { Broke = broke, Glide = Ms(broke ? 8 : 40), AudibleGlide = Ms(8), GlideSemitones = broke ? 0.2 : 5 };
        Assert.Equal(expected, string.Join(",", Judge(heard, AcrossPartials, ChangeIntent.NaturalSlur).Verdicts));
    }

    [Fact]
    public void A_break_or_slide_against_the_plan_is_remarked_where_no_exercise_asks()
    {
        var plan = PlanOf(AcrossPartials);
        var sixth = plan.Instrument.SettingsFor(Pitch.Parse("F3")).Single(s => s.Partial == 4);
        var slid = Whole(Fine() with { Broke = false, GlideSemitones = 5, GlideBounds = MsBounds(72, 88) }, plan, n => n.Index == 0 ? n with { PlayedSetting = sixth } : n).Changes[0];
        Assert.Equal(["The pitch slid on one partial where the planned settings break: F3 was probably played in 6th position."], slid.Remarks);
        var broke = Judge(Fine() with { Broke = true, Break = new PartialBreak(new(2), -1.8), GlideSemitones = -0.2 });
        Assert.Equal([Verdict.Clean], broke.Verdicts);
        Assert.Equal(["The pitch broke where the planned settings stay on one partial: another setting was probably played."], broke.Remarks);

        // Noise, an echo and stopped air have no period either.
        Assert.Empty(Judge(Fine() with { Broke = true, GlideSemitones = -0.2 }).Remarks);
    }

    [Theory]
    [InlineData(0.5, 2, "Clean")]
    [InlineData(5, 2, "TongueHeard")]
    [InlineData(0.5, 16, "Unsteady")]
    public void An_imagined_tongue_leaves_the_tone_steady(double dip, double drift, string expected)
    {
        var judged = Whole(Touched(dip), PlanOf(OnePitch, ChangeIntent.ImaginedTongue), n => n with { Drift = new(drift) }).Changes[0];
        Assert.Equal(expected, string.Join(",", judged.Verdicts));
    }

    [Theory] // The limit, 10 cents, is what is just noticed: only a whole interval settles a drift.
    [InlineData(21, 14, 28, "Unsteady", 2)]
    [InlineData(21, 4, 38, "CannotTell", 0)]
    [InlineData(-21, -28, -14, "Unsteady", 2)]
    [InlineData(-3, -9, 3, "Clean", 0)]
    [InlineData(-3, -14, 8, "CannotTell", 0)]
    public void A_drift_is_called_and_remarked_by_its_interval(double drift, double low, double high, string expected, int remarks)
    {
        var whole = Whole(Touched(0.5), PlanOf(OnePitch, ChangeIntent.ImaginedTongue), n => n with { Drift = new(drift), DriftBounds = new(new(low), new(high)) });
        Assert.Equal(expected, string.Join(",", whole.Changes[0].Verdicts));
        Assert.Equal(remarks, whole.Notes.Count(n => !n.Remarks.IsEmpty));
    }

    [Theory] // Notes swing by 1 or 2 dB of themselves; a dip of 3.2 dB may be no touch at all either: then nothing touched late.
    [InlineData(3.6, 3.2, 4, "TongueLate")]
    [InlineData(3.2, 1.2, 5.2, "Clean")]
    [InlineData(2, 1.7, 2.3, "Clean")]
    public void What_may_be_no_touch_has_no_time(double dip, double low, double high, string expected)
    {
        var heard = Touched(dip) with { DipBounds = DbBounds(low, high), Glide = Ms(40), AudibleGlide = Ms(20), GlideSemitones = -2, GlideCentre = new(1.9), Overshoot = new(0) };
        Assert.Equal(expected, string.Join(",", Judge(heard).Verdicts));
    }

    [Theory]
    [InlineData(8, 0.3, "Clean")]
    [InlineData(0.4, 0.3, "NoTouch")]
    [InlineData(23, 0.3, "TooHard")]
    [InlineData(8, -3, "AirChanged")]
    public void Touches_on_a_long_tone_are_there_and_soft_and_leave_the_air_alone(double dip, double change, string expected)
    {
        var judged = Whole(Touched(dip), PlanOf(OnePitch, ChangeIntent.TouchedTone), n => n with { Level = new(-20 + (n.Index * change)) }).Changes[0];
        Assert.Equal(expected, string.Join(",", judged.Verdicts));
    }

    [Fact]
    public void A_written_glissando_that_breaks_is_blamed_and_one_that_is_heard_is_not()
    {
        Assert.Equal([Verdict.Clean], Judge(Slow, "Bb3:2g Ab3:2").Verdicts);
        Assert.Equal([Verdict.Broke], Judge(Slow with { Broke = true }, "Bb3:2g Ab3:2").Verdicts);
    }
}
