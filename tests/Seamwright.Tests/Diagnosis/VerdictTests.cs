using Seamwright.Core.Diagnosis;
using Seamwright.Core.Listening;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;
using static Seamwright.Tests.Diagnoses.VerdictCases;

namespace Seamwright.Tests.Diagnoses;

/// <summary>Figures and their intervals against the limits.</summary>
public class VerdictTests
{
    [Fact]
    public void A_change_as_a_fine_player_makes_it_is_clean() => Assert.Equal([Verdict.Clean], Judge(Fine()).Verdicts);

    [Theory] // The 90th percentiles of one orchestral player's legato and tenuto: dip, time below −10 dB, overshoot.
    [InlineData(16, 40, 0)]
    [InlineData(18, 55, 1)]
    public void Legato_and_tenuto_of_a_fine_player_are_not_blamed(double dip, double below10, double over)
    {
        var heard = Fine() with { Dip = new(dip), EarDip = new(dip), Below10 = Ms(below10), Overshoot = new(over) };
        Assert.Equal([Verdict.Clean], Judge(heard).Verdicts);
        Assert.Equal([Verdict.Clean], Judge(heard with { Broke = true, GlideSemitones = 0.3, AudibleGlide = Ms(4) }, AcrossPartials).Verdicts);
    }

    [Fact]
    public void Where_another_sound_fills_the_silence_hard_and_stopped_are_not_told_apart()
    {
        var filled = Fine() with { Dip = new(19), EarDip = new(19), Below10 = Ms(90), GapBounds = new(Ms(0), Ms(70)) };
        Assert.Equal([Verdict.CannotTell], Judge(filled).Verdicts);
        var company = Judge(filled with { Doubts = [Doubt.OtherSound] });
        Assert.Equal([Verdict.CannotTell], company.Verdicts.Distinct());
        Assert.Contains("use headphones", company.Findings[0].Basis);
    }

    [Fact]
    public void A_touch_that_is_hard_or_stopped_is_told_as_one_of_the_two_and_practised_as_hard()
    {
        var either = Touched(26) with { EarGap = Ms(9), Gap = Ms(9), EarGapInterval = (Ms(2), Ms(22)), GapBounds = new(Ms(2), Ms(22)) };
        var diagnosis = Whole(either, PlanOf(OnOnePartial));
        var open = diagnosis.Changes[0].Findings.Single(f => f.AtLeast is not null);
        Assert.Equal((Verdict.CannotTell, Verdict.TooHard), (open.Verdict, open.Sure));
        Assert.StartsWith("too hard, or the air stopped: more than 20 dB down for 2 to 22 ms", open.Basis);
        Assert.StartsWith("Touch softer and shorter", open.Advice);
        Assert.Contains(diagnosis.Summary.WorkOnFirst, w => w.StartsWith("The tongue was too hard or the air stopped once", StringComparison.Ordinal));
        var group = FaultGroup.Of(diagnosis).Single(g => g.Kind == FaultKind.HardTongue);
        Assert.Equal(0.6 * 3, group.Weight, 1e-9);

        // Where no silence is possible it is hard, and where it is surely long it stopped.
        Assert.Contains(Verdict.TooHard, Judge(Touched(26)).Verdicts);
        Assert.Equal(Verdict.AirStopped, Judge(either with { EarGap = Ms(30), Gap = Ms(30), EarGapInterval = (Ms(25), Ms(35)), GapBounds = new(Ms(25), Ms(35)) }).Verdicts[0]);

        // Where no touch is wanted soft there is no hard one either.
        Assert.Null(Judge(either, OnOnePartial, ChangeIntent.SlowSlide).Findings.First(f => f.Verdict == Verdict.CannotTell).AtLeast);
    }

    [Fact]
    public void Where_another_sound_is_as_loud_no_crack_is_told_and_none_is_denied()
    {
        var caught = Fine() with { CaughtPitch = new(300) };
        Assert.Contains(Verdict.Cracked, Judge(caught).Verdicts);
        Assert.DoesNotContain(Verdict.Cracked, Judge(caught with { Doubts = [Doubt.OtherSound] }).Verdicts);
        Assert.Equal([Verdict.CannotTell], Judge(Fine() with { Doubts = [Doubt.OtherSound], IsCovered = true }).Verdicts);
    }

    [Fact]
    public void A_time_on_both_sides_of_the_arms_middle_is_told_without_signs()
    {
        var open = Fine() with { DipCentre = new(2.04), TongueOffsetBounds = new(Ms(-20), Ms(90)) };
        Assert.Contains("from 20 ms before to 90 ms after the arm is half way", Judge(open).Findings.Single(f => f.Verdict == Verdict.CannotTell).Basis);
    }

    [Fact]
    public void A_dip_that_nobody_hears_has_no_time()
    {
        var touched = Fine() with { GlideCentre = new(1.8), TongueOffsetBounds = new(Ms(190), Ms(210)) };
        Assert.Equal([Verdict.TongueLate], Judge(touched).Verdicts);
        Assert.Equal([Verdict.Clean], Judge(touched with { Dip = new(1.9), EarDip = new(0.4), EarDipBounds = new(new(0), new(0.9)) }).Verdicts);
    }

    [Fact] // The median of the same player's staccato.
    public void Staccato_is_blamed_where_legato_was_asked_for()
    {
        var heard = Fine() with { Dip = new(30), EarDip = new(30), Below10 = Ms(93), Gap = Ms(52), EarGap = Ms(52), Overshoot = new(18) };
        Assert.Equal([Verdict.AirStopped, Verdict.Bump], Judge(heard).Verdicts);
    }

    [Theory] // Clear from 80 ms over two semitones, possible from 50.
    [InlineData(100, 90, 112, "Smear")]
    [InlineData(84, 76, 93, "Smear")]
    [InlineData(78, 70, 84, "SmearPossible")]
    [InlineData(65, 58, 74, "SmearPossible")]
    [InlineData(65, 58, 96, "SmearPossible,CannotTell")]
    [InlineData(90, 60, 120, "SmearPossible,CannotTell")]
    [InlineData(60, 38, 71, "CannotTell")]
    [InlineData(90, 30, 150, "CannotTell")]
    [InlineData(45, 30, 70, "CannotTell")]
    [InlineData(45, 35, 54, "Clean")]
    [InlineData(40, 34, 46, "Clean")]
    public void A_smear_is_called_by_its_interval(double audible, double low, double high, string expected)
    {
        var judged = Judge(Fine() with { AudibleGlide = Ms(audible), AudibleGlideBounds = MsBounds(low, high) });
        Assert.Equal(expected, string.Join(",", judged.Verdicts));
    }

    [Theory] // Beyond 20 dB; at most 1 dB and a third of the interval may lie across, or it is narrower than 1 dB.
    [InlineData(22, 21, 23, "TooHard")]
    [InlineData(20.4, 19.7, 21.1, "TooHard")]
    [InlineData(20.1, 19.65, 20.55, "TooHard")]
    [InlineData(20.1, 19.4, 20.8, "CannotTell")]
    [InlineData(22, 18.8, 25.2, "CannotTell")]
    [InlineData(20.3, 18.9, 21.7, "CannotTell")]
    [InlineData(19.5, 17.8, 21.2, "CannotTell")]
    [InlineData(19.5, 18.7, 20.3, "Clean")]
    [InlineData(15, 14, 16, "Clean")]
    public void A_dip_is_called_by_its_interval(double dip, double low, double high, string expected)
    {
        var judged = Judge(Fine() with { Dip = new(dip), EarDip = new(dip), DipBounds = DbBounds(low, high) });
        Assert.Equal(expected, string.Join(",", judged.Verdicts));
    }

    [Theory] // Beyond 60 ms.
    [InlineData(86, 83, 91, "TooHard")]
    [InlineData(64, 48, 92, "CannotTell")]
    [InlineData(50, 47, 55, "Clean")]
    public void A_long_touch_is_called_by_its_interval(double below10, double low, double high, string expected)
    {
        var heard = Fine() with { Dip = new(16), EarDip = new(15), DipBounds = DbBounds(15, 17), Below10 = Ms(below10), Below10Interval = (Ms(low), Ms(high)) };
        Assert.Equal(expected, string.Join(",", Judge(heard).Verdicts));
    }

    [Fact]
    public void A_dip_deeper_in_the_ears_window_than_its_model_is_in_no_more_doubt_than_the_model() =>
        Assert.Equal([Verdict.Clean], Judge(Fine() with { Dip = new(16.3), EarDip = new(19.3), DipBounds = DbBounds(14.7, 17.9) }).Verdicts);

    [Fact] // Of five semitones the pitch jumps four and a half; half a semitone may take 160 ms before it is heard.
    public void A_jump_between_partials_is_no_part_of_a_smear()
    {
        var heard = Fine() with { AudibleGlide = Ms(62), AudibleGlideBounds = MsBounds(55, 69), GlideSemitones = 5 };
        Assert.Equal([Verdict.Smear], Judge(heard, AcrossPartials).Verdicts);
        Assert.Equal([Verdict.Clean], Judge(heard with { Broke = true, Break = new PartialBreak(new(2), 4.5) }, AcrossPartials).Verdicts);
    }

    [Theory]
    [InlineData(60, 52, 68, "AirStopped")]
    [InlineData(13, 8.5, 17.5, "AirStopped")]
    [InlineData(13, 4, 22, "CannotTell")] // hard or stopped: the advice differs
    [InlineData(4, 0, 11, "TooHard")]
    public void Stopped_air_is_called_by_its_interval(double gap, double low, double high, string expected)
    {
        var heard = Fine() with { Dip = new(28), EarDip = new(28), Below10 = Ms(40), Gap = Ms(gap), EarGap = Ms(gap), GapBounds = MsBounds(low, high), DipBounds = DbBounds(26, 30) };
        Assert.Equal(expected, string.Join(",", Judge(heard).Verdicts));
    }

    [Theory]
    [InlineData(90, 80, 100, "TongueLate")]
    [InlineData(-90, -100, -80, "TongueEarly")]
    [InlineData(63, 56, 70, "TongueLate")]
    [InlineData(63, 57, 69, "TongueLate")]
    [InlineData(63, 48, 78, "CannotTell")]
    [InlineData(-55, -75, -35, "CannotTell")]
    [InlineData(30, 20, 40, "Clean")]
    public void The_tongues_time_is_called_by_its_interval(double offset, double low, double high, string expected)
    {
        var heard = Fine() with { DipCentre = new Seconds(2) + Ms(offset), TongueOffsetBounds = MsBounds(low, high) };
        Assert.Equal(expected, string.Join(",", Judge(heard).Verdicts));
    }

    [Fact] // A teacher's setting: the tongue aims at the arrival.
    public void The_tongues_time_is_told_against_where_it_was_to_touch()
    {
        var plan = PlanOf(OnOnePartial);
        var arrival = plan with { Changes = [plan.Changes[0] with { TongueOffset = Seconds.Zero, MoveTime = Ms(160) }] };
        HeardChange Off(double ms) => Fine() with { DipCentre = new Seconds(2) + Ms(ms), TongueOffsetBounds = MsBounds(ms - 3, ms + 3) };
        Assert.Equal([Verdict.Clean], Whole(Off(80), arrival).Changes[0].Verdicts);
        var early = Whole(Off(0), arrival).Changes[0];
        Assert.Equal([Verdict.TongueEarly], early.Verdicts);
        Assert.Contains("80 ms before its moment", early.Advice);
    }

    [Theory]
    [InlineData(5, 4, 6, "Bump")]
    [InlineData(3.2, 2, 4.4, "CannotTell")]
    [InlineData(2.5, 2.1, 2.9, "Clean")]
    public void A_burst_is_called_by_its_interval(double over, double low, double high, string expected)
    {
        var judged = Judge(Fine() with { Overshoot = new(over), OvershootBounds = DbBounds(low, high) });
        Assert.Equal(expected, string.Join(",", judged.Verdicts));
    }

    [Fact]
    public void What_cannot_be_told_says_its_interval_its_limit_and_its_reason()
    {
        var heard = Fine() with { Dip = new(19.5), EarDip = new(19.5), DipBounds = DbBounds(17, 22.5), Doubts = [Doubt.Reverberation, Doubt.Noise] };
        var judged = Judge(heard);
        Assert.Equal("a dip of 17.0 to 22.5 dB, limit 20 dB: the notes ring on and fill the quiet moments", Assert.Single(judged.Findings).Basis);
        Assert.Equal("This recording does not settle it: a dip of 17.0 to 22.5 dB, limit 20 dB: the notes ring on and fill the quiet moments.", judged.Advice);
        Assert.Equal(8, Enum.GetValues<Doubt>().Select(d => Judge(heard with { Doubts = [d] }).Findings[0].Basis).Distinct().Count());
    }

    [Theory] // Before the ear gives intervals, half of what the resolution adds to its window stays in doubt.
    [InlineData(70, 13, "SmearPossible")]
    [InlineData(55, 34, "CannotTell")]
    [InlineData(90, 34, "Smear")]
    [InlineData(45, 34, "Clean")]
    public void Without_intervals_the_resolution_is_the_doubt(double audible, double resolution, string expected) =>
        Assert.Equal(expected, string.Join(",", Judge(Fine() with { AudibleGlide = Ms(audible), Resolution = Ms(resolution) }).Verdicts));

    [Fact]
    public void Figures_that_are_no_numbers_give_no_verdict_and_no_exception()
    {
        var broken = Fine() with
        {
            AudibleGlide = new(double.NaN),
            EarDip = new(double.NaN),
            Overshoot = new(double.PositiveInfinity),
            GapBounds = new(new(double.NaN), new(1)),
            TongueOffsetBounds = new(new(double.NegativeInfinity), new(0)),
        };
        Assert.Equal([Verdict.Clean], Judge(broken).Verdicts);
    }

    [Theory]
    [InlineData(30, 26, 34, Verdict.OutOfTune, "Out")]
    [InlineData(-30, -34, -26, Verdict.OutOfTune, "Out")]
    [InlineData(-28, -40, -16, Verdict.CannotTell, "")]
    [InlineData(20, 2, 38, Verdict.CannotTell, "")]
    [InlineData(20, 14, 26, Verdict.Clean, "Watch")]
    [InlineData(-4, -6, -2, Verdict.Clean, "Good")]
    public void Intonation_is_called_by_its_interval(double cents, double low, double high, Verdict expected, string intonation)
    {
        var note = Whole(Fine(), PlanOf(OnOnePartial), n => n with { Cents = new(cents), CentsBounds = new(new(low), new(high)) }).Notes[1];
        Assert.Equal(expected, note.Findings[0].Verdict);
        Assert.Equal(intonation, note.Intonation?.ToString() ?? "");
    }

    [Fact]
    public void Another_setting_than_planned_is_told_and_its_millimetres_are_that_settings_own()
    {
        var plan = PlanOf("F3:2~ Ab3:2");
        var sixth = plan.Instrument.SettingsFor(Pitch.Parse("F3")).Single(s => s.Partial == 4);
        var note = Whole(Fine(), plan, n => n.Index == 0 ? n with { Cents = new(20), PlayedSetting = sixth } : n).Notes[0];
        Assert.Equal(["It sounds like 6th position, not 1st position."], note.Remarks);
        var planned = Whole(Fine(), plan, n => n with { Cents = new(20) }).Notes[0];
        Assert.True(note.SlideCorrection!.Value.Value > 1.3 * planned.SlideCorrection!.Value.Value);
    }

    [Fact]
    public void Drift_and_vibrato_are_remarked()
    {
        var note = Whole(Fine(), PlanOf(OnOnePartial), n => n with { Drift = new(-22), Vibrato = new Vibrato(new(5.4), new(17)) }).Notes[0];
        Assert.Equal(["It drifts 22 cents down while it is held.", "It has a vibrato of 5.4 swings a second, 17 cents to each side."], note.Remarks);
    }

    [Fact]
    public void An_attempt_in_another_key_is_judged_without_millimetres_of_slide()
    {
        var plan = PlanOf(OnOnePartial);
        var take = TakeOf([Fine()], plan, n => n with { Cents = new(30) });
        take = take with { Attempts = [new Attempt { Start = new(0), End = new(4), Notes = take.Notes, Changes = take.Changes, Transposition = -12 }] };
        var judged = Diagnostician.Judge(take, plan);
        Assert.All(judged.Notes, n => Assert.Null(n.SlideCorrection));
        Assert.True(Assert.Single(judged.Attempts).Best);
        Assert.Contains("It was played an octave down.", judged.Summary.Overall);
    }

    [Fact]
    public void Each_attempt_is_judged_by_itself()
    {
        var plan = PlanOf(OnOnePartial);
        var take = TakeOf([Fine()], plan);
        var smeared = Fine() with { AudibleGlide = Ms(150) };
        var first = new Attempt { Start = new(0), End = new(4), Notes = [.. take.Notes], Changes = [smeared] };
        take = take with { Attempts = [first, new Attempt { Start = new(5), End = new(9), Notes = take.Notes, Changes = take.Changes }] };
        var judged = Diagnostician.Judge(take, plan);
        Assert.Equal([false, true], judged.Attempts.Select(a => a.Best));
        Assert.Equal([1, 0], judged.Attempts.Select(a => a.ToMend));
        Assert.Contains("This is attempt 2 of 2", judged.Summary.Overall);
    }

    [Fact]
    public void An_arm_that_set_off_early_and_crept_explains_the_smear()
    {
        var arm = new HeardArm { Start = new(1.6), End = new(2), From = new(0), To = new(18), PeakSpeed = 0.84, Lead = Ms(-290), Crept = true };
        var judged = Judge(Fine() with { AudibleGlide = Ms(180), Arm = arm });
        Assert.Equal([Verdict.Smear], judged.Verdicts);
        Assert.Matches("heard for 180 ms because the arm set off [0-9]+ ms too early and crept: stay on the first note", judged.Advice);
        Assert.Contains("The slide went 18.0 cm in 400 ms, at most 0.8 m/s.", judged.Remarks);
    }
}
