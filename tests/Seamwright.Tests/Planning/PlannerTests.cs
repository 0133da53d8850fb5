using Seamwright.Core;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;

namespace Seamwright.Tests.Planning;

public class PlannerTests
{
    private static readonly Instrument Straight = Catalogue.Find("tenor-straight")!;

    private static Plan PlanOf(string text, PlanSettings? settings = null, Instrument? on = null, double tempo = 60) =>
        Planner.Plan(TestLines.Of(text, tempo), on ?? Straight, settings).Value;

    private static PlanSettings Locked(params string[] patterns) => new()
    {
        Locks = [.. patterns.Select((p, i) => SettingPattern.TryParse(p, out var x) ? new NoteLock(i, x) : throw new ArgumentException(p))],
    };

    [Theory] // Common practice: the order of questions for two joined notes.
    [InlineData("Bb3~ Bb3", "1 1", ChangeKind.SoftTongue)] // same note again
    [InlineData("C3~ D3", "F1 4", ChangeKind.ValveSlur)] // a valve moves
    [InlineData("Bb3~ A3", "1 2", ChangeKind.SoftTongue)] // one partial, slide out
    [InlineData("Bb3~ F4", "1 1", ChangeKind.NaturalSlur)] // lip slur, slide still
    [InlineData("F3~ G3", "1 4", ChangeKind.NaturalSlur)] // up while the slide goes out
    [InlineData("F3~ A3", "1 2", ChangeKind.NaturalSlur)] // up while the slide goes out
    [InlineData("G3~ F3", "4 1", ChangeKind.NaturalSlur)] // down while the slide comes in
    [InlineData("C4~ F3", "3 1", ChangeKind.NaturalSlur)] // down two partials while the slide comes in
    [InlineData("D3~ Bb3", "4 1", ChangeKind.SoftTongue)] // up and in: heard until the partial breaks
    [InlineData("F3~ C3", "open1 open6", ChangeKind.SoftTongue)] // down and out on one partial
    [InlineData("Bb3~ C3", "1 open6", ChangeKind.SoftTongue)] // down and out across partials
    public void The_kind_of_a_joined_change_follows_from_partial_and_slide(string notes, string settings, ChangeKind kind)
    {
        var plan = PlanOf(notes, Locked(settings.Split(' ')), Catalogue.Default);
        Assert.Equal(kind, plan.Changes[0].Kind);
    }

    [Fact]
    public void A_rest_a_breath_or_a_missing_slur_part_the_notes()
    {
        var plan = PlanOf("Bb3~ A3 r G3' F3 Eb3~ D3");
        Assert.Equal([ChangeKind.SoftTongue, ChangeKind.Breath, ChangeKind.Breath, ChangeKind.Tongued], plan.Changes.Take(4).Select(c => c.Kind));
    }

    [Fact]
    public void A_line_without_slurs_is_planned_as_legato_and_says_so()
    {
        var plan = PlanOf("Bb3 A3 Bb3. F3");
        Assert.Equal([ChangeKind.SoftTongue, ChangeKind.SoftTongue, ChangeKind.Tongued], plan.Changes.Select(c => c.Kind));
        Assert.Contains(plan.Problems, p => p.Severity == Severity.Note && p.What.Contains("no slurs"));
        var asWritten = PlanOf("Bb3 A3", new PlanSettings { Player = new Player { Legato = LegatoScope.AsWritten } });
        Assert.Equal(ChangeKind.Tongued, asWritten.Changes[0].Kind);
    }

    [Fact]
    public void Notes_marked_to_be_touched_under_a_slur_get_the_soft_tongue_even_on_a_lip_slur() =>
        Assert.Equal(ChangeKind.SoftTongue, PlanOf("Bb3-~ F4-", Locked("1", "1")).Changes[0].Kind);

    [Theory]
    [InlineData(TonguePolicy.WhereItWouldSmear, ChangeKind.NaturalSlur, ChangeKind.SoftTongue)]
    [InlineData(TonguePolicy.EveryNote, ChangeKind.SoftTongue, ChangeKind.SoftTongue)]
    [InlineData(TonguePolicy.NaturalSlursOnly, ChangeKind.NaturalSlur, ChangeKind.Tongued)]
    public void Each_school_of_tonguing_has_its_own_kinds(TonguePolicy policy, ChangeKind lip, ChangeKind slide)
    {
        var settings = Locked("1", "1", "2") with { Player = new Player { Policy = policy } };
        var plan = PlanOf("Bb3~ F4~ E4", settings);
        Assert.Equal([lip, slide], plan.Changes.Select(c => c.Kind));
    }

    [Fact]
    public void A_written_glissando_stays_on_one_partial_and_is_meant_to_be_heard()
    {
        var plan = PlanOf("F4g B3");
        Assert.Equal(ChangeKind.Glissando, plan.Changes[0].Kind);
        Assert.Null(plan.Changes[0].TongueOffset);
        Assert.Equal(plan.Notes[0].Setting!.Partial, plan.Notes[1].Setting!.Partial);
    }

    [Fact]
    public void A_glissando_wider_than_a_tritone_is_refused_aloud()
    {
        var plan = PlanOf("F4g Bb3");
        Assert.NotEqual(ChangeKind.Glissando, plan.Changes[0].Kind);
        Assert.Contains(plan.Problems, p => p.What.Contains("tritone"));
    }

    [Fact] // B-flat to A on the 4th partial: one semitone, 8.76 cm; 0.16 s for one position; peak 1.875·D/T.
    public void The_arms_way_time_and_speed_are_told_for_each_change()
    {
        var change = PlanOf("Bb3~ A3", Locked("1", "2")).Changes[0];
        Assert.Equal(8.76, change.Travel!.Value.Value, 0.02);
        Assert.Equal(160, change.MoveTime.Milliseconds, 1e-6);
        Assert.Equal(1.875 * 0.0876 / 0.16, change.PeakSpeed, 0.003);
        Assert.Equal(1000, change.TimeAvailable.Milliseconds, 1e-6);
        Assert.Equal(-80, change.TongueOffset!.Value.Milliseconds, 1e-6);
        Assert.InRange(change.SmearIfUntongued.Milliseconds, (0.507 * 160) - 0.5, (0.507 * 160) + 0.5);
        Assert.Equal((PitchMotion.Down, SlideMotion.Out), (change.PitchMotion, change.SlideMotion));
        Assert.Equal("B♭ to A stays on the 4th partial and the slide goes out 8.8 cm: it would smear, so touch it with the tongue.", change.Reason);
    }

    [Fact]
    public void The_arm_never_takes_more_than_its_share_of_the_note_before()
    {
        var change = PlanOf("Bb3:1/4~ A3", Locked("1", "2")).Changes[0];
        Assert.Equal(0.4 * 250, change.MoveTime.Milliseconds, 1e-6);
    }

    [Fact]
    public void The_touch_follows_the_setting_of_the_tongue_point()
    {
        var settings = Locked("1", "2") with { Player = new Player { TongueAt = 1 } };
        Assert.Equal(0, PlanOf("Bb3~ A3", settings).Changes[0].TongueOffset!.Value.Milliseconds, 1e-9);
    }

    [Fact]
    public void A_move_beyond_the_arms_speed_is_called_implausible_with_place_and_figures()
    {
        var plan = PlanOf("E2:1/8~ Bb2:1/8 r:1", Locked("7", "1"));
        Assert.False(plan.Changes[0].Plausible);
        Assert.Contains(plan.Problems, p => p.Where == "bar 1, beat 1.13" && p.What.Contains("m/s"));
        Assert.Equal(1, plan.Changes[0].Difficulty, 1e-9);
    }

    [Fact]
    public void Reach_valves_and_bans_are_respected()
    {
        var six = new PlanSettings { Player = new Player { FurthestPosition = 6 } };
        Assert.Null(PlanOf("E2", six).Notes[0].Setting);
        Assert.NotNull(PlanOf("E2", six, Catalogue.Default).Notes[0].Setting);
        var noValves = new PlanSettings { Player = new Player { ValvesAllowed = false } };
        Assert.Equal("6", PlanOf("C3", noValves, Catalogue.Default).Notes[0].Setting!.Label);
        Assert.True(SettingPattern.TryParse("6", out var sixth));
        var banned = PlanOf("C3", new PlanSettings { Bans = [sixth, SettingPattern.AnyValve] }, Catalogue.Default);
        Assert.Null(banned.Notes[0].Setting);
        Assert.Contains(banned.Problems, p => p.What.Contains("needs 6 or F1"));
    }

    [Fact]
    public void An_unreachable_note_is_a_case_of_the_plan_and_the_rest_is_planned()
    {
        var plan = PlanOf("Bb3~ C1~ A3~ Bb3");
        Assert.Null(plan.Notes[1].Setting);
        Assert.All(new[] { 0, 2, 3 }, i => Assert.NotNull(plan.Notes[i].Setting));
        Assert.Null(plan.Changes[0].Travel);
        Assert.Contains(plan.Problems, p => p.Where == "bar 1, beat 2" && p.What.Contains("C1 cannot be played on tenor-straight"));
    }

    [Fact]
    public void All_bad_locks_and_settings_are_told_at_once()
    {
        var line = TestLines.Of("Bb3 A3");
        var wish = new PlanSettings { Locks = [new(7, new("", 1, null)), new(0, new("", 2, null)), new(1, new("F", null, 99))] };
        var outcome = Planner.Plan(line, Straight, wish);
        Assert.False(outcome.Succeeded);
        Assert.Equal(3, outcome.Problems.Length);
        var wrong = Planner.Plan(line, Straight, new PlanSettings { Player = new Player { MoveShare = 2, TongueAt = -1 }, Weights = new CostWeights { Smear = -1 } });
        Assert.Equal(3, wrong.Problems.Length);
    }

    [Fact]
    public void Natural_first_takes_an_alternate_where_plain_positions_does_not()
    {
        const string Notes = "F4~ D4~ F4~ D4~ F4";
        var plain = PlanOf(Notes, new PlanSettings { Weights = CostWeights.PlainPositions });
        Assert.All(plain.Notes, n => Assert.Equal(Straight.UsualSetting(n.Note.Pitch), n.Setting));
        int Naturals(Plan p) => p.Changes.Count(c => c.Kind == ChangeKind.NaturalSlur);
        const string Scale = "Bb3:1/2~ C4:1/2~ D4:1/2~ Eb4:1/2~ F4:1/2~ Eb4:1/2~ D4:1/2~ C4:1/2~ Bb3";
        Assert.True(Naturals(PlanOf(Scale, new PlanSettings { Weights = CostWeights.NaturalFirst })) >= Naturals(PlanOf(Scale, new PlanSettings { Weights = CostWeights.PlainPositions })));
        double Way(Plan p) => p.Changes.Sum(c => Math.Abs(c.Travel!.Value.Value));
        Assert.True(Way(PlanOf(Scale, new PlanSettings { Weights = CostWeights.QuietArm })) < Way(PlanOf(Scale, new PlanSettings { Weights = CostWeights.PlainPositions })));
    }

    [Fact]
    public void Difficulty_grows_with_distance_and_with_speed()
    {
        double At(string notes, string locks, double tempo) => PlanOf(notes, Locked(locks.Split(' ')), tempo: tempo).Changes[0].Difficulty;
        Assert.True(At("Bb3~ A3", "1 2", 60) < At("Bb3~ Ab3", "1 3", 60));
        Assert.True(At("Bb3~ Ab3", "1 3", 60) < At("Bb3~ F#3", "1 5", 60));
        Assert.True(At("Bb3:1/2~ A3", "1 2", 60) < At("Bb3:1/2~ A3", "1 2", 160));
        Assert.True(At("Bb3~ F4", "1 1", 60) < At("Bb3~ A3", "1 2", 60));
        Assert.Equal(0, PlanOf("Bb3. Bb3.~ A3").Changes[0].Difficulty);
    }

    [Fact]
    public void An_empty_line_and_a_single_note_are_planned()
    {
        Assert.Empty(PlanOf("").Notes);
        Assert.Equal("1", PlanOf("Bb3").Notes[0].Setting!.Label);
        Assert.Empty(PlanOf("Bb3").Changes);
    }

    [Theory]
    [InlineData("4", null, 4, null)]
    [InlineData("open4", "", 4, null)]
    [InlineData("F2", "F", 2, null)]
    [InlineData("F♭2", "Fb", 2, null)]
    [InlineData("p5", null, null, 5)]
    [InlineData("Gb3p4", "Gb", 3, 4)]
    public void Setting_patterns_are_read(string text, string? side, int? position, int? partial)
    {
        Assert.True(SettingPattern.TryParse(text, out var pattern));
        Assert.Equal(new SettingPattern(side, position, partial), pattern);
    }

    [Theory]
    [InlineData("")]
    [InlineData("0")]
    [InlineData("99")]
    [InlineData("p0")]
    public void Nonsense_patterns_are_refused(string text) => Assert.False(SettingPattern.TryParse(text, out _));
}
