using System.Text.RegularExpressions;
using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Exercises;

/// <summary>Every kind about slurs and settings, for every horn and three pupils.</summary>
public class SlurKindsTests
{
    private static readonly string[] ForValves = ["valve-slurs", "valve-or-arm"];

    public static TheoryData<string> Kinds => ["one-note", "two-notes", "lip-slurs", "contrary", "both-ways", "alternates", "valve-slurs", "valve-or-arm"];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Every_pupil_gets_what_the_arm_the_horn_and_the_range_can_do(string kind)
    {
        foreach (var pupil in Made.Pupils())
        {
            if (ForValves.Contains(kind) && pupil.Instrument.Sides.Length == 1) continue;
            var all = Made.Of(new ExerciseOrder { Kind = kind }, pupil);
            Assert.Equal(all.Count, all.Select(e => e.Id).Distinct().Count());
            foreach (var exercise in all) Holds(exercise, pupil);
        }
    }

    private static void Holds(Exercise exercise, Pupil pupil)
    {
        var where = $"{exercise.Id} on {pupil.Instrument.Id}";
        Assert.Matches("^[a-z0-9-]+$", exercise.Id);
        Assert.True(exercise.Tempos.Zip(exercise.Tempos.Skip(1)).All(t => t.First < t.Second), where);
        foreach (var tempo in exercise.Tempos)
        {
            var plan = Made.Again(exercise, pupil, tempo);
            Assert.Equal(exercise.Plan.Notes.Select(n => n.Setting), plan.Notes.Select(n => n.Setting));
            Assert.Equal(exercise.Plan.Changes.Select(c => (c.Kind, c.Intent)), plan.Changes.Select(c => (c.Kind, c.Intent)));
            Assert.All(plan.Changes, c => Assert.True(c.Plausible, $"{where}: {c.Reason}"));
        }

        Assert.All(exercise.Plan.Notes, n => Assert.True(n.Note.Pitch >= pupil.Lowest && n.Note.Pitch <= pupil.Highest, where));
        Assert.All(exercise.Plan.Notes, n => Assert.Contains(n.Setting!, pupil.SettingsFor(n.Note.Pitch)));
        if (exercise.Key.Length == 0) Assert.All(exercise.Plan.Notes, n => Assert.False(IsAwkward(n.Note.Pitch.Name), $"{where}: {n.Note.Pitch}"));
        Assert.All(exercise.Plan.Changes.Where(c => c.Intent == ChangeIntent.NaturalSlur), c => Assert.True(Separates(exercise.Plan, c), $"{where}: {c.Reason}"));
        Assert.All(exercise.Plan.Changes, c => Assert.True(c.Kind == ChangeKind.Breath || c.Intent is not null, $"{where}: nothing is asked of {c.Index}"));
    }

    [Theory]
    [InlineData("two-notes", "1-next 2-further 3-far")]
    [InlineData("lip-slurs", "1-neighbours 2-wider 3-three 4-quick")]
    [InlineData("contrary", "1 2 3 4 5")]
    [InlineData("valve-slurs", "1-still 2-nearly-still")]
    [InlineData("valve-or-arm", "5 6 7")]
    public void Each_step_of_a_series_is_harder_than_the_one_before(string kind, string steps)
    {
        var longest = 0;
        foreach (var pupil in Made.Pupils().Where(p => !ForValves.Contains(kind) || p.Instrument.Sides.Length > 1))
        {
            foreach (var register in kind is "lip-slurs" ? [Register.Low, Register.Middle, Register.High] : new Register?[] { null })
            {
                var made = ExerciseMaker.Make(new ExerciseOrder { Kind = kind, Register = register }, pupil);
                if (!made.Succeeded) continue;
                foreach (var series in made.Value.Exercises.GroupBy(e => Prefix(e, steps)))
                {
                    var inOrder = series.OrderBy(e => e.Id, StringComparer.Ordinal).ToList();
                    Assert.All(inOrder.Zip(inOrder.Skip(1)), s => Assert.True(s.First.Difficulty < s.Second.Difficulty, $"{s.First.Id} {s.First.Difficulty:0.000}, {s.Second.Id} {s.Second.Difficulty:0.000} on {pupil.Instrument.Id}"));
                    longest = Math.Max(longest, inOrder.Count);
                }
            }
        }

        Assert.Equal(steps.Split(' ').Length, longest);
    }

    [Fact]
    public void Lip_slurs_keep_the_slide_still_and_begin_in_every_position_reached()
    {
        foreach (var pupil in Made.Pupils())
        {
            foreach (var exercise in Made.Of(new ExerciseOrder { Kind = "lip-slurs" }, pupil))
                Assert.All(Asked(exercise.Plan), c => Assert.Equal(Separation.StillSlide, Between(exercise.Plan, c)));
        }

        var neighbours = Made.Of(new ExerciseOrder { Kind = "lip-slurs" }, Pupil.Of(Catalogue.Default)).Single(e => e.Id.EndsWith("1-neighbours", StringComparison.Ordinal));
        Assert.Equal(Enumerable.Range(0, 7), neighbours.Plan.Notes.Select(n => n.Setting!.Semitone).Distinct());
        Assert.Equal(["1st position", "2nd position", "3rd position", "4th position", "5th position", "6th position", "7th position"], neighbours.Part.Bars.Select(b => b.Section).Where(s => s.Length > 0));
    }

    [Fact]
    public void Lip_slurs_stay_in_the_positions_ordered_and_on_the_valve_ordered()
    {
        var few = Made.Of(new ExerciseOrder { Kind = "lip-slurs", Positions = (3, 2) }, Pupil.Of(Catalogue.Default));
        Assert.All(few.SelectMany(e => e.Plan.Notes), n => Assert.InRange(n.Setting!.Semitone, 1, 2));
        var valve = Made.Of(new ExerciseOrder { Kind = "lip-slurs", Valve = "F" }, Pupil.Of(Catalogue.Default));
        Assert.All(valve.SelectMany(e => e.Plan.Notes), n => Assert.Equal("F", n.Setting!.Side.Label));
    }

    [Fact]
    public void Contrary_cells_go_up_while_the_slide_goes_out()
    {
        foreach (var exercise in Made.Pupils().SelectMany(p => Made.Of(new ExerciseOrder { Kind = "contrary" }, p)))
        {
            Assert.All(Asked(exercise.Plan), c => Assert.Equal(Separation.Contrary, Between(exercise.Plan, c)));
            Assert.All(Asked(exercise.Plan), c => Assert.Equal(c.PitchMotion == PitchMotion.Up, c.SlideMotion == SlideMotion.Out));
        }
    }

    [Fact]
    public void Valve_slurs_move_a_valve_and_hardly_the_slide()
    {
        foreach (var pupil in Made.Pupils().Where(p => p.Instrument.Sides.Length > 1))
        {
            foreach (var exercise in Made.Of(new ExerciseOrder { Kind = "valve-slurs" }, pupil))
            {
                Assert.All(Asked(exercise.Plan), c => Assert.Equal(ChangeKind.ValveSlur, c.Kind));
                var still = exercise.Id.EndsWith("1-still", StringComparison.Ordinal);
                Assert.All(Asked(exercise.Plan), c => Assert.InRange(Math.Abs(exercise.Plan.Notes[c.FromNote].Setting!.Position - exercise.Plan.Notes[c.ToNote].Setting!.Position), 0, still ? 0.15 : 0.5));
            }
        }
    }

    [Fact]
    public void Valve_or_arm_tells_how_far_the_arm_goes_and_spares_it()
    {
        var exercise = Made.Of(new ExerciseOrder { Kind = "valve-or-arm", Note = Pitch.Parse("C3") }, Pupil.Of(Catalogue.Default)).Single();
        Assert.Contains("Between B♭2 and C3 the arm goes 0 cm with the F valve and 50 cm without.", exercise.Purpose);
        Assert.Contains(exercise.Plan.Notes, n => n.Note.Pitch.ToString() == "C3" && n.Setting!.Label == "6");
        Assert.Contains(exercise.Plan.Notes, n => n.Note.Pitch.ToString() == "C3" && n.Setting!.Label == "F1");
    }

    [Theory]
    [InlineData("valve-slurs", "tenor-straight", true, null, "has no valve")]
    [InlineData("valve-or-arm", "alto-eb", true, null, "has no valve")]
    [InlineData("valve-slurs", "tenor-f", false, null, "may not use valves")]
    [InlineData("valve-or-arm", "tenor-f", true, "G", "has no valve 'G'")]
    [InlineData("lip-slurs", "tenor-straight", true, "F", "has no valve 'F'")]
    [InlineData("contrary", "bass-independent", true, "Z", "It has: F, G♭, D.")]
    public void What_the_horn_does_not_have_is_refused_in_words(string kind, string horn, bool valves, string? valve, string message)
    {
        var pupil = Pupil.Of(Catalogue.Find(horn)!, new PlanSettings { Player = new Player { ValvesAllowed = valves } });
        var made = ExerciseMaker.Make(new ExerciseOrder { Kind = kind, Valve = valve }, pupil);
        Assert.False(made.Succeeded);
        Assert.Contains(message, string.Join(" ", made.Problems));
    }

    [Fact]
    public void Two_positions_go_through_the_partials()
    {
        var exercise = Made.Of(new ExerciseOrder { Kind = "two-notes", Positions = (2, 5) }, Pupil.Of(Catalogue.Default)).Single();
        Assert.Equal([1, 4], exercise.Plan.Notes.Select(n => n.Setting!.Semitone).Distinct().Order());
        Assert.True(exercise.Plan.Notes.Select(n => n.Setting!.Partial).Distinct().Count() > 5);
        Assert.All(Asked(exercise.Plan), c => Assert.Equal(Separation.SamePartial, Between(exercise.Plan, c)));
    }

    private static string Prefix(Exercise e, string steps) => Regex.Replace(e.Id, $"-({string.Join('|', steps.Split(' ').Select(Regex.Escape))})$", "");

    private static bool IsAwkward(PitchName n) => (n.Step, n.Alter) is (Step.C or Step.F, -1) or (Step.E or Step.B, 1) || Math.Abs(n.Alter) > 1;

    private static IEnumerable<NoteChange> Asked(Plan plan) => plan.Changes.Where(c => c.Kind != ChangeKind.Breath);

    private static Separation Between(Plan plan, NoteChange c) =>
        Separations.Between(plan.Instrument, plan.Notes[c.FromNote].Note.Pitch, plan.Notes[c.FromNote].Setting!, plan.Notes[c.ToNote].Note.Pitch, plan.Notes[c.ToNote].Setting!);

    private static bool Separates(Plan plan, NoteChange c) => Between(plan, c) is Separation.Valve or Separation.StillSlide or Separation.Contrary;
}
