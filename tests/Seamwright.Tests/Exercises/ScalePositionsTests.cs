using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Exercises;

/// <summary>Where the slide goes in scales: as common practice has it.</summary>
public class ScalePositionsTests
{
    [Theory]
    [InlineData("tenor-straight")]
    [InlineData("tenor-f")]
    [InlineData("alto-eb")]
    public void Scales_lie_where_the_chart_has_them_but_for_an_alternate_that_spares_two_changes(string id)
    {
        var horn = Catalogue.Find(id)!;
        var (notes, unusual) = (0, 0);
        foreach (var tonic in TwelveKeys.For(Scale.Find("major")!))
        {
            var made = ExerciseMaker.Make(new ExerciseOrder { Kind = "scales", Keys = [new KeyName(tonic, null)] }, Pupil.Of(horn, level: 4));
            foreach (var note in made.Succeeded ? made.Value.Exercises.SelectMany(e => e.Plan.Notes) : [])
            {
                var usual = horn.UsualSetting(note.Note.Pitch)!;
                Assert.Equal(usual.Valves, note.Setting!.Valves);
                Assert.True(Math.Abs(note.Setting.Position - usual.Position) < 3.5, $"{note.Note.Pitch} in {note.Setting.Label}");
                notes++;
                unusual += note.Setting.Equals(usual) ? 0 : 1;
            }
        }

        Assert.InRange(unusual, 0, notes / 20);
    }

    [Fact]
    public void What_lies_far_without_the_valve_is_played_with_it()
    {
        var plan = Made.Of(new ExerciseOrder { Kind = "scales" }, Pupil.Of(Catalogue.Default, level: 4)).Single().Plan;
        Assert.All(plan.Notes.Where(n => n.Note.Pitch == Pitch.Parse("C3")), n => Assert.Equal("F1", n.Setting!.Label));
    }

    [Fact]
    public void A_beginner_gets_the_usual_pattern_in_quarter_notes()
    {
        var first = Made.Of(new ExerciseOrder { Kind = "pattern" }, Pupil.Of(Catalogue.Default, level: 1)).Single();
        Assert.All(first.Part.Notes.SkipLast(1), n => Assert.True(n.Duration >= Beats.Quarter));
        Assert.Contains(Made.Of(new ExerciseOrder { Kind = "pattern" }, Pupil.Of(Catalogue.Default, level: 3)).Single().Part.Notes, n => n.Duration < Beats.Quarter);
    }

    [Fact]
    public void Keys_that_lie_nowhere_in_the_range_are_told()
    {
        var made = ExerciseMaker.Make(new ExerciseOrder { Kind = "scales", Keys = [new KeyName(PitchName.OnFifths(-2), null), new KeyName(PitchName.OnFifths(-1), null)] }, Pupil.Of(Catalogue.Default, level: 1));
        Assert.Equal("B♭ major", made.Value.Exercises.Single().Key);
        Assert.Contains(made.Problems, p => p.Where == "key F" && p.What.StartsWith("lies nowhere", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("scales")]
    [InlineData("three-passes")]
    public void A_child_whose_arm_and_range_hold_no_octave_gets_five_notes(string kind)
    {
        var child = Pupil.Of(Catalogue.Find("tenor-straight")!, new PlanSettings { Player = new Player { FurthestPosition = 5 } }, level: 1);
        var five = Made.Of(new ExerciseOrder { Kind = kind }, child).Single();
        Assert.Equal("E♭ major", five.Key);
        Assert.Contains("the first five notes", five.Title);
        Assert.Equal(5, five.Plan.Notes.Select(n => n.Note.Pitch).Distinct().Count());
        Assert.Equal(1, five.Level);
        Assert.False(ExerciseMaker.Make(new ExerciseOrder { Kind = kind, Octaves = 1 }, child).Succeeded);
    }
}
