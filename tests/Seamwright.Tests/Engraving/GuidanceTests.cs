using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;
using Seamwright.Engraving.Guidance;

namespace Seamwright.Tests.Engraving;

public class GuidanceTests
{
    private static readonly Instrument Bass = Catalogue.Find("bass-independent")!;

    [Fact]
    public void A_repeat_with_another_setting_is_shown_in_brackets_and_explained()
    {
        var part = PartBuilder.Parse("", "[: F3:2 C3:2 :] |");
        var plan = TestPlans.For(part);
        var inSixth = Catalogue.Default.SettingsFor(Pitch.Parse("F3")).First(s => s.Valves.IsEmpty && s.Position > 2);
        var again = plan.Notes[0] with { Note = plan.Notes[0].Note with { Pass = 2, Index = 2 }, Setting = inSixth };
        var guides = PlanGuide.Of(part, plan with { Notes = plan.Notes.Add(again) }, new());
        Assert.Equal("1", guides["n1-1"].Position!.ToString());
        Assert.Equal("6", Assert.Single(guides["n1-1"].LaterPositions).ToString());
        Assert.Empty(guides["n1-2"].LaterPositions);
        Assert.Contains(Legend.For([.. guides.Values], plan, "du"), e => e.Sample == "[ ]");
    }

    [Fact]
    public void A_breath_gets_a_comma_only_where_the_sheet_shows_no_silence()
    {
        var part = PartBuilder.Parse("", "C3:4 D3:4' E3:4 r:4 | F3:2 G3:2 |");
        var plan = TestPlans.For(part);
        var all = plan with { Changes = [.. plan.Changes.Select(c => c with { Kind = ChangeKind.Breath })] };
        var guides = PlanGuide.Of(part, all, new());
        Assert.Equal(["n1-1", "n2-1"], guides.Where(g => g.Value.BreathAfter).Select(g => g.Key).Order());
    }

    [Fact]
    public void Of_a_later_pass_only_a_tongue_that_the_first_did_not_need_is_printed_in_brackets()
    {
        var part = PartBuilder.Parse("", "C3:4 D3:4 |");
        var plan = TestPlans.For(part);
        var second = plan.Notes.Select(n => n with { Note = n.Note with { Pass = 2 } });
        var both = plan with
        {
            Notes = [.. plan.Notes, .. second],
            Changes = [With(plan, 0, 1, ChangeKind.NaturalSlur), With(plan, 1, 2, ChangeKind.ValveSlur), With(plan, 2, 3, ChangeKind.SoftTongue)],
        };
        var guides = PlanGuide.Of(part, both, new());
        Assert.Equal([SheetMark.NaturalSlur], guides["n1-2"].Marks);
        Assert.Empty(guides["n1-1"].Marks);
        Assert.Equal("[du]", guides["n1-2"].Syllable);
        Assert.Contains(Legend.For([.. guides.Values], both, "du"), e => e is { Sample: "[ ]", Meaning: "on the repeat" });
    }

    [Fact]
    public void An_unreachable_note_is_a_dash_and_explained()
    {
        var part = PartBuilder.Parse("", "B1:1 |");
        var guides = PlanGuide.Of(part, TestPlans.For(part), new());
        Assert.Equal("–", guides["n1-1"].Position!.ToString());
        Assert.Contains(Legend.For([.. guides.Values], null, "du"), e => e is { Sample: "–", Meaning: "out of reach" });
    }

    [Fact]
    public void The_legend_explains_only_what_occurs()
    {
        var part = PartBuilder.Parse("", "F3:2 G3:2 |");
        var plan = TestPlans.For(part);
        var plain = plan with { Changes = [With(plan, 0, 1, ChangeKind.Tongued)] };
        var guides = PlanGuide.Of(part, plain, new());
        Assert.Equal(["slide position"], Legend.For([.. guides.Values], plain, "du").Select(e => e.Meaning));
    }

    [Fact]
    public void Valves_are_named_by_what_is_held()
    {
        var part = PartBuilder.Parse("", "Db2:2 C2:2 |");
        var plan = TestPlans.For(part, Bass);
        var legend = Legend.For([.. PlanGuide.Of(part, plan, new()).Values], plan, "du");
        Assert.Contains(legend, e => e is { Sample: "D", Meaning: "F and G♭ valves together" });
    }

    [Fact]
    public void Valve_letters_and_place_are_kept_apart()
    {
        var settings = Bass.Sides.Where(s => s.Id == "Gb").SelectMany(_ => Bass.SettingsFor(Pitch.Parse("Db3"))).Where(s => s.Side.Id == "Gb");
        Assert.All(settings, s => Assert.Equal("G♭", PositionPrint.Of(s).Valves));
        Assert.All(settings, s => Assert.Matches("^[♭♯]?[1-8]$", PositionPrint.Of(s).Place));
        Assert.NotEmpty(settings);
    }

    [Fact]
    public void The_teachers_syllable_stands_under_soft_tongues_only_and_is_kept_short()
    {
        var part = PartBuilder.Parse("", "C3:4 D3:4 E3:4 |");
        var plan = TestPlans.For(part);
        var mixed = plan with { Changes = [With(plan, 0, 1, ChangeKind.SoftTongue), With(plan, 1, 2, ChangeKind.NaturalSlur)] };
        var guides = PlanGuide.Of(part, mixed, new() { Syllable = " la\tlalalalala" });
        Assert.Equal("la lalal", guides["n1-2"].Syllable);
        Assert.Equal("", guides["n1-3"].Syllable);
    }

    [Fact]
    public void What_is_switched_off_is_not_printed()
    {
        var part = PartBuilder.Parse("", "C3:4 D3:4 E3:4 |");
        Assert.All(PlanGuide.Of(part, TestPlans.For(part), new() { ShowPositions = false }).Values, g => Assert.Null(g.Position));
        Assert.All(PlanGuide.Of(part, TestPlans.For(part), new() { ShowChanges = false }).Values, g => Assert.Empty(g.Marks));
        Assert.Empty(PlanGuide.Of(part, null, new()));
    }

    private static NoteChange With(Plan plan, int from, int to, ChangeKind kind) =>
        plan.Changes[0] with { Index = from, FromNote = from, ToNote = to, Kind = kind, Plausible = true };
}
