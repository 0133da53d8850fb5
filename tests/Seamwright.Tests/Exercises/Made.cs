using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Scores.MusicXml;
using Seamwright.Tests.Cli;

namespace Seamwright.Tests.Exercises;

/// <summary>Orders and pupils for the tests of exercises.</summary>
internal static class Made
{
    /// <summary>A beginner, a pupil with a short arm, and a professional, on every horn of the catalogue.</summary>
    public static IEnumerable<Pupil> Pupils() => Catalogue.All().SelectMany(i => new[]
    {
        Pupil.Of(i, level: 1),
        Pupil.Of(i, new PlanSettings { Player = new Player { FurthestPosition = 6 } }, 3),
        Pupil.Of(i),
    });

    public static IReadOnlyList<Exercise> Of(ExerciseOrder order, Pupil pupil)
    {
        var made = ExerciseMaker.Make(order, pupil);
        Assert.True(made.Succeeded, $"{order.Kind} on {pupil.Instrument.Id}, {pupil.Lowest}-{pupil.Highest}: {string.Join("; ", made.Problems)}");
        return made.Value.Exercises;
    }

    public static Tune Melody(string name)
    {
        using var file = File.OpenRead(CommandLine.Melody(name));
        var score = MusicXmlReader.Read(file, name).Value;
        return new Tune(score.Title, score.Parts[0]);
    }

    /// <summary>As read back from its file and planned by the settings written there.</summary>
    public static Plan Again(Exercise exercise, Pupil pupil, double tempo)
    {
        using var file = new MemoryStream();
        MusicXmlWriter.Write(exercise.Score, null, file);
        file.Position = 0;
        var part = MusicXmlReader.Read(file, "exercise.musicxml").Value.Parts[0];
        return Planner.Plan(Unfolder.Play(part, "", tempo).Value, pupil.Instrument, pupil.Settings).Value;
    }
}
