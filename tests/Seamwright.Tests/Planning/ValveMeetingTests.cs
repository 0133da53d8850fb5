using System.Collections.Immutable;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Planning;

/// <summary>Valve changes over a slide that moves with the pitch: where the two tubes meet half way, no valve separates the notes.</summary>
public class ValveMeetingTests
{
    private static Plan PlanOf(string notes, string settings, TonguePolicy policy = TonguePolicy.WhereItWouldSmear, Instrument? on = null, ChangeIntent? asked = null)
    {
        var line = TestLines.Of(notes);
        var wish = new PlanSettings
        {
            Player = new Player { Policy = policy },
            Locks = [.. settings.Split(' ').Select((p, i) => SettingPattern.TryParse(p, out var x) ? new NoteLock(i, x) : throw new ArgumentException(p))],
        };
        return Planner.Plan(line with { Notes = line.Notes.SetItem(1, line.Notes[1] with { Asked = asked }) }, on ?? Catalogue.Default, wish).Value;
    }

    [Theory] // Half way the new tube sounds 0.36 above, 0.24 and 0.31 below the old one. The first by hand: 1.57 − 0.02 (the third partial is a little high) against 1.19 below F3.
    [InlineData("D3~ F3", "4 F1", "D to F takes the F valve, but with the slide half way both tubes sound 0.4 semitones apart: it would smear, so touch it with the tongue.")]
    [InlineData("F3~ Eb3", "F1 3", "F to E♭ lets the F valve go, but with the slide half way both tubes sound 0.2 semitones apart: it would smear, so touch it with the tongue.")]
    [InlineData("Eb3~ F3", "F♭3 1", "E♭ to F lets the F valve go, but with the slide half way both tubes sound 0.3 semitones apart: it would smear, so touch it with the tongue.")]
    public void Where_both_tubes_meet_half_way_the_tongue_separates(string notes, string settings, string reason)
    {
        var change = PlanOf(notes, settings).Changes[0];
        Assert.Equal(ChangeKind.SoftTongue, change.Kind);
        Assert.Equal(reason, change.Reason);
        Assert.Equal(-(0.5 * change.MoveTime.Value), change.TongueOffset!.Value.Value, 1e-9);
        Assert.InRange(change.SmearIfUntongued.Value / change.MoveTime.Value, 0.4, MinimumJerk.TenToNinety + 1e-9);
    }

    [Theory]
    [InlineData("Bb2~ C3", "1 F1")] // a still slide
    [InlineData("C3~ Bb2", "F1 1")]
    [InlineData("C3~ D3", "F1 4")] // up while the slide goes out
    [InlineData("D3~ C3", "4 F1")] // down while it comes in
    [InlineData("Bb3~ A3", "5p5 F5")] // down and out, and a jump of more than a semitone is left
    public void A_valve_over_a_still_slide_against_it_or_with_a_jump_left_slurs_by_itself(string notes, string settings)
    {
        var change = PlanOf(notes, settings).Changes[0];
        Assert.Equal(ChangeKind.ValveSlur, change.Kind);
        Assert.EndsWith("the valve separates the notes by itself.", change.Reason);
        Assert.Equal(0, change.SmearIfUntongued.Value);
    }

    [Fact]
    public void A_jump_against_the_pitch_separates_nothing()
    {
        var change = PlanOf("C3~ B2", "F1 7").Changes[0];
        Assert.Equal(ChangeKind.SoftTongue, change.Kind);
        Assert.Matches("^C to B lets the F valve go, but with the slide half way the new tube sounds [0-9.]+ semitones above the old one, against the pitch: it would smear", change.Reason);
    }

    [Fact]
    public void The_same_note_on_the_other_tube_is_not_separated_by_a_slide_that_moves()
    {
        var change = PlanOf("D3~ D3", "4 Fp4").Changes[0];
        Assert.Equal(ChangeKind.SoftTongue, change.Kind);
        Assert.StartsWith("D to D takes the F valve, but the note stays the same and the slide goes", change.Reason);
    }

    [Theory] // The limit is one semitone, and half of an interval narrower than two.
    [InlineData("D3~ F3", 1)]
    [InlineData("E3~ F3", 0.5)]
    public void The_limit_is_a_semitone_and_never_more_than_half_the_interval(string notes, double limit)
    {
        var seen = new List<(double Jump, ChangeKind Kind)>();
        for (var below = 3.0; below < 5; below += 0.01)
        {
            // The longer the valve's tube, the nearer in its fourth partial takes F3, and the further the arm goes with the pitch.
            var plan = PlanOf(notes, "openp3 Xp4", on: Invented(below));
            if (plan.Notes[1].Setting is not { Residual.Value: 0 } to || plan.Changes[0].SlideMotion != SlideMotion.In) continue;
            var from = plan.Notes[0].Setting!;
            var half = (from.Travel.Value + to.Travel.Value) / 2;
            double Glide(Side side, double near, double far) => 12 * Math.Log2((side.EffectiveLength.Value + (2 * far)) / (side.EffectiveLength.Value + (2 * near)));
            var interval = plan.Notes[1].Note.Pitch.Midi - plan.Notes[0].Note.Pitch.Midi;
            seen.Add((interval - Glide(from.Side, half, from.Travel.Value) - Glide(to.Side, to.Travel.Value, half), plan.Changes[0].Kind));
        }

        Assert.All(seen, s => Assert.Equal(s.Jump < limit ? ChangeKind.SoftTongue : ChangeKind.ValveSlur, s.Kind));
        Assert.Contains(seen, s => s.Jump < limit && s.Jump > limit - 0.02);
        Assert.Contains(seen, s => s.Jump >= limit && s.Jump < limit + 0.02);
    }

    [Theory]
    [InlineData(TonguePolicy.WhereItWouldSmear, ChangeKind.SoftTongue)]
    [InlineData(TonguePolicy.EveryNote, ChangeKind.SoftTongue)]
    [InlineData(TonguePolicy.NaturalSlursOnly, ChangeKind.Tongued)]
    public void Each_school_of_tonguing_treats_it_as_a_slide_that_would_smear(TonguePolicy policy, ChangeKind kind)
    {
        var change = PlanOf("D3~ F3", "4 F1", policy).Changes[0];
        Assert.Equal(kind, change.Kind);
        Assert.Contains("0.4 semitones apart: it would smear", change.Reason);
    }

    [Theory]
    [InlineData(ChangeIntent.SlowSlide, ChangeKind.Glissando)]
    [InlineData(ChangeIntent.FastSlide, ChangeKind.Glissando)]
    [InlineData(ChangeIntent.SoftTongue, ChangeKind.SoftTongue)]
    [InlineData(ChangeIntent.NaturalSlur, ChangeKind.SoftTongue)] // which its settings do not give
    public void What_an_exercise_asks_there_is_what_it_may_ask_of_a_slide(ChangeIntent asked, ChangeKind kind) =>
        Assert.Equal(kind, PlanOf("D3~ F3", "4 F1", asked: asked).Changes[0].Kind);

    [Theory]
    [InlineData("D3~ F3", "4 F1", 1)]
    [InlineData("Bb2~ C3", "1 F1", 0)]
    [InlineData("C3~ D3", "F1 4", 0)]
    public void The_stated_cost_counts_it_as_a_smear(string notes, string settings, double smears)
    {
        var plan = PlanOf(notes, settings);
        double Cost(double smear) => PlanCost.Of(plan.Line, [.. plan.Notes.Select(n => n.Setting)], plan.Instrument, new PlanSettings { Weights = new CostWeights { Smear = smear } });
        Assert.Equal(smears, Cost(1) - Cost(0), 1e-9);
    }

    [Fact]
    public void It_is_harder_than_the_same_way_of_the_arm_under_a_valve_that_separates()
    {
        var (meets, separates) = (PlanOf("D3~ F3", "4 F1").Changes[0], PlanOf("D3~ C3", "4 F1").Changes[0]);
        Assert.Equal(separates.Travel!.Value.Value, meets.Travel!.Value.Value, 0.5);
        Assert.True(meets.Difficulty > separates.Difficulty + 0.03, $"{meets.Difficulty} and {separates.Difficulty}");
    }

    [Fact] // A partial that lies 30 cents high sounds 30 cents high half way too.
    public void The_jump_half_way_is_that_of_the_instruments_own_partials()
    {
        var horn = Catalogue.Default;
        var plan = PlanOf("D3~ F3", "4 F1");
        double Jump(params (int Partial, double Cents)[] offsets) => Separations.JumpHalfWay(
            horn with { PartialOffsets = offsets.ToImmutableDictionary(o => o.Partial, o => new Cents(o.Cents)) }, plan.Notes[0].Setting!, plan.Notes[1].Setting!).Value;
        Assert.Equal(36, Jump(), 1.0);
        Assert.Equal(Jump() + 30, Jump((4, 30)), 1e-9);
        Assert.Equal(Jump() - 20, Jump((3, 20)), 1e-9);
    }

    private static Instrument Invented(double below)
    {
        var tenor = Catalogue.Find("tenor-straight")!;
        var ratio = Math.Pow(2, -below / 12);
        var valve = new Side
        {
            Id = "X",
            Valves = ["X"],
            Label = "X",
            Fundamental = new(tenor.Open.Fundamental.Value * ratio),
            EffectiveLength = new(tenor.Open.EffectiveLength.Value / ratio),
        };
        return tenor with { Id = "invented", Sides = [tenor.Open, valve] };
    }
}
