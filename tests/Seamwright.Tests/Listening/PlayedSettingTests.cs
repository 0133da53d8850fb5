using System.Collections.Immutable;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;
using Seamwright.Tests.Planning;

namespace Seamwright.Tests.Listening;

/// <summary>Another setting than planned is named only where what was heard bears it.</summary>
public class PlayedSettingTests
{
    private static readonly Plan Sliding = PlanOf("G3:2~ F3:2", 4, 4);
    private static readonly Plan Breaking = PlanOf("G3:2~ F3:2", 4, 3);

    [Fact] // Of both notes one alone has another partial.
    public void A_jump_where_a_slide_was_planned_is_another_partial() =>
        Assert.NotNull(Guess(Sliding, Change() with { Broke = true, Break = new PartialBreak(new(2), -2) })[1].PlayedSetting);

    [Fact] // C4 in third and D4 in fourth: both on the fifth partial or both on the sixth would slide.
    public void A_slide_that_either_note_may_have_made_names_neither() =>
        Assert.All(Guess(PlanOf("C4:2~ D4:2", 5, 6), Slide()), n => Assert.Null(n.PlayedSetting));

    [Theory] // F3 on the F side to D3 on the open horn over a moving slide: where the valve is let go both may sound the same.
    [InlineData("F3:2~ D3:2", "F1", "4", false)]
    [InlineData("G3:2~ F3:2", "4", "1", true)]
    public void A_slide_refutes_no_break_that_may_be_as_small(string notes, string first, string second, bool refuted)
    {
        NoteLock[] locks = [.. new[] { first, second }.Select((text, i) => SettingPattern.TryParse(text, out var pattern) ? new NoteLock(i, pattern) : throw new ArgumentException(text))];
        var plan = Planner.Plan(TestLines.Of(notes), Catalogue.Find("tenor-f")!, new PlanSettings { Locks = [.. locks] }).Value;
        Assert.Equal(refuted, PlayedSettings.Shown(Slide(), plan) == false);
        Assert.Null(PlayedSettings.Shown(Slide() with { Break = new PartialBreak(new(2), -1) }, plan));
    }

    [Fact] // Noise, an echo or stopped air is not periodic either.
    public void A_moment_without_period_alone_is_no_other_partial() =>
        Assert.Null(Guess(Sliding, Change() with { Broke = true })[1].PlayedSetting);

    [Theory]
    [InlineData(60, 90, true)]
    [InlineData(38, 112, false)]
    public void A_slide_where_a_break_was_planned_must_surely_be_longer_than_any_break(double low, double high, bool told)
    {
        var heard = Change() with { Broke = false, Glide = Seconds.FromMilliseconds(75), GlideBounds = new(Seconds.FromMilliseconds(low), Seconds.FromMilliseconds(high)) };
        Assert.Equal(told, Guess(Breaking, heard)[1].PlayedSetting is not null);
    }

    [Theory] // The seventh partial at its plain position is some 31 cents flat.
    [InlineData(1.5, true)]
    [InlineData(12, false)]
    public void A_pitch_names_a_setting_only_as_well_as_it_is_known(double reach, bool told)
    {
        var plan = PlanOf("Bb2:2~ F4:2");
        var alternative = plan.Notes[1].Alternatives.Select(a => a.Setting).First(s => Math.Abs(s.Correction.Value) >= 22);
        var cents = -alternative.Correction.Value;
        var notes = Notes(plan, i => i == 1 ? cents : 0, reach);
        Assert.Equal(told, PlayedSettings.Guess(plan, notes, [])[1].PlayedSetting is not null);
    }

    [Fact]
    public void A_take_that_lies_flat_as_a_whole_names_no_setting()
    {
        var plan = PlanOf("Bb2:2~ C3:2~ D3:2~ Eb3:2~ F3:2~ F4:2");
        var alternative = plan.Notes[5].Alternatives.Select(a => a.Setting).First(s => Math.Abs(s.Correction.Value) >= 22);
        Assert.All(PlayedSettings.Guess(plan, Notes(plan, _ => -alternative.Correction.Value, 1.3), []), n => Assert.Null(n.PlayedSetting));
    }

    private static HeardChange Change() => new() { Index = 0, Found = true, LowestPeriodicity = 0.4 };

    private static HeardChange Slide() => Change() with { LowestPeriodicity = 0.95, Broke = false, Glide = Seconds.FromMilliseconds(75), GlideBounds = new(Seconds.FromMilliseconds(60), Seconds.FromMilliseconds(90)) };

    private static ImmutableArray<HeardNote> Guess(Plan plan, HeardChange change) => PlayedSettings.Guess(plan, Notes(plan, _ => 0, 1.3), [change]);

    private static ImmutableArray<HeardNote> Notes(Plan plan, Func<int, double> cents, double reach) =>
        [.. plan.Notes.Select((n, i) => new HeardNote { Index = i, Pitch = n.Note.Pitch, Found = true, Cents = new(cents(i)), CentsBounds = new(new(cents(i) - reach), new(cents(i) + reach)) })];

    // The partials that the notes are planned on, from the first; the rest as planned.
    private static Plan PlanOf(string notes, params int[] partials)
    {
        var plan = Planner.Plan(TestLines.Of(notes), Catalogue.Find("tenor-straight")!, new PlanSettings { Weights = CostWeights.PlainPositions }).Value;
        return plan with { Notes = [.. plan.Notes.Select((n, i) => i < partials.Length ? On(partials[i], n) : n)] };
    }

    private static PlannedNote On(int partial, PlannedNote note)
    {
        SlideSetting[] all = [note.Setting!, .. note.Alternatives.Select(a => a.Setting)];
        var wanted = all.First(s => s.Partial == partial);
        return note with { Setting = wanted, Alternatives = [.. all.Where(s => s != wanted).Select(s => new Alternative(s, 1))] };
    }
}
