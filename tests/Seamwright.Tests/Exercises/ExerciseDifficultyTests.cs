using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;
using Seamwright.Tests.Planning;

namespace Seamwright.Tests.Exercises;

public class ExerciseDifficultyTests
{
    [Fact]
    public void A_quicker_lip_slur_is_harder() =>
        Assert.True(Of("Bb2~ F3~ Bb2~ F3", 60) < Of("Bb2~ F3~ Bb2~ F3", 120));

    [Fact]
    public void A_move_during_a_breath_does_not_count()
    {
        Assert.Equal(Of("Bb2~ F3", 60), Of("Bb2~ F3' E3", 60));
        Assert.NotEqual(Of("Bb2~ F3", 60), Of("Bb2~ F3~ E3", 60));
    }

    // A soft tongue counts 0.37 for coordination; the mean change is three quarters as hard as the hardest.
    [Theory]
    [InlineData(2, 1)]
    [InlineData(3, 2)]
    [InlineData(4, 3)]
    [InlineData(5, 4)]
    [InlineData(6, 5)]
    public void A_level_ends_with_soft_tongued_moves_over_one_position_more(int positions, int level)
    {
        var horn = Catalogue.Find("tenor-straight")!;
        var player = new Player();
        var seventh = horn.SettingsFor(Pitch.Parse("E2")).Single(s => s.Semitone == 6 && s.Partial == 2);
        var from = horn.SettingsFor(Pitch.Parse("E2") + new Interval(positions, 0)).Concat(horn.SettingsFor(Pitch.FromMidi(Pitch.Parse("E2").Midi + positions))).First(s => s.Semitone == 6 - positions && s.Partial == 2);
        var time = player.MoveTime + ((positions - 1) * player.MoveTimePerPosition);
        var speed = MinimumJerk.PeakSpeed(seventh.Travel - from.Travel, time);
        var hardest = 1 - ((1 - Math.Pow(speed / player.FastestArm, 2)) * (1 - 0.37));
        var limit = ((0.7 * 1) + (0.3 * 0.75)) * hardest;
        var plan = Planner.Plan(TestLines.Of("Bb3~ A3"), horn).Value;
        Assert.Equal(level, ExerciseDifficulty.LevelOf(plan, limit - 0.01));
        Assert.Equal(level + 1, ExerciseDifficulty.LevelOf(plan, limit + 0.01));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(4)]
    public void An_order_gives_no_more_than_the_next_level_and_then_says_why(int level)
    {
        var marked = new List<int>();
        // A contrabass is nobody's first horn: its ways are a third longer.
        foreach (var pupil in Catalogue.All().Where(h => h.Id != "contrabass-f").Select(h => Pupil.Of(h, level: level)))
        {
            // No valve belongs to the first year.
            foreach (var kind in ExerciseMaker.Kinds.Where(k => k.Name is not ("from-tune" or "horn-and-ear") && !(level == 1 && k.Name.StartsWith("valve", StringComparison.Ordinal))))
            {
                var made = ExerciseMaker.Make(new ExerciseOrder { Kind = kind.Name }, pupil);
                if (!made.Succeeded) continue;
                foreach (var exercise in made.Value.Exercises)
                {
                    Assert.True(exercise.Level <= level + 1, $"{exercise.Id} on {pupil.Instrument.Id} is marked {exercise.Level} ({exercise.Difficulty:0.00}).");
                    Assert.Equal(exercise.Level > level, exercise.Demand.Length > 0);
                    marked.Add(exercise.Level);
                }
            }
        }

        Assert.True(marked.Count(m => m <= level) > 0.7 * marked.Count, $"{marked.Count(m => m > level)} of {marked.Count} are above");
    }

    [Fact]
    public void What_is_above_the_pupil_names_the_notes_the_way_and_the_speed()
    {
        var scale = Made.Of(new ExerciseOrder { Kind = "three-passes", Keys = [new(Pitch.Parse("Bb2").Name, null)] }, Pupil.Of(Catalogue.Find("tenor-straight")!, level: 1)).Single();
        Assert.Equal((2, "Why it is marked level 2: from B♭2 to C3 the slide goes 50 cm and your arm reaches 3.6 m/s."), (scale.Level, scale.Demand));
    }

    [Fact]
    public void An_exercise_is_never_easier_in_a_quicker_tempo()
    {
        foreach (var pupil in new[] { Pupil.Of(Catalogue.Default, level: 3), Pupil.Of(Catalogue.Find("bass-independent")!) })
        {
            foreach (var exercise in ExerciseMaker.Kinds.Where(k => k.Name != "from-tune").SelectMany(k => Made.Of(new ExerciseOrder { Kind = k.Name }, pupil)))
            {
                var hard = exercise.Tempos.Select(t => ExerciseDifficulty.Of(Planner.Plan(Core.Scores.Unfolder.Play(exercise.Part, "", t).Value, pupil.Instrument, pupil.Settings).Value)).ToList();
                Assert.All(hard.Zip(hard.Skip(1)), h => Assert.True(h.First <= h.Second + 1e-9, $"{exercise.Id}: {string.Join(", ", hard)}"));
            }
        }
    }

    private static double Of(string line, double tempo) => ExerciseDifficulty.Of(Planner.Plan(TestLines.Of(line, tempo), Catalogue.Find("tenor-straight")!).Value);
}
