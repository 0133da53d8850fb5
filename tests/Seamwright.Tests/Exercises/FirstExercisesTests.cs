using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Scores.MusicXml;

namespace Seamwright.Tests.Exercises;

public class FirstExercisesTests
{
    private static readonly Pupil Grown = Pupil.Of(Catalogue.Default, level: 4);

    [Theory]
    [InlineData("one-note")]
    [InlineData("three-passes")]
    [InlineData("two-notes")]
    public void What_is_asked_survives_the_file(string kind)
    {
        var made = ExerciseMaker.Make(new ExerciseOrder { Kind = kind }, Grown);
        Assert.True(made.Succeeded, string.Join("; ", made.Problems));
        foreach (var exercise in made.Value.Exercises) Survives(exercise);
    }

    private static void Survives(Exercise exercise)
    {
        using var file = new MemoryStream();
        MusicXmlWriter.Write(exercise.Score, null, file);
        file.Position = 0;
        var read = MusicXmlReader.Read(file, "exercise.musicxml");
        var plan = Planner.Plan(Unfolder.Play(read.Value.Parts[0], "").Value, Catalogue.Default).Value;
        Assert.Equal(exercise.Plan.Notes.Select(n => n.Setting), plan.Notes.Select(n => n.Setting));
        Assert.Equal(exercise.Plan.Changes.Select(c => (c.Kind, c.Intent)), plan.Changes.Select(c => (c.Kind, c.Intent)));
        Assert.Contains(plan.Changes, c => c.Intent is not null);
    }
}
