using Seamwright.Audio.Writing;
using Seamwright.Core;
using Seamwright.Core.Exercises;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Scores.MusicXml;
using Seamwright.Core.Sound.PlayAlong;

namespace Seamwright.Pack;

/// <summary>Exercises as files: one each.</summary>
public static class ExerciseFiles
{
    /// <summary>A name for each: the one given where there is one exercise, else with its number and id before the ending.</summary>
    public static IReadOnlyList<string> Names(string target, IReadOnlyList<Exercise> exercises)
    {
        return exercises.Count == 1 ? [target] : Numbered(target, exercises);
    }

    /// <summary>The same with number and id whatever their count; a stem of <c>x</c> is left out.</summary>
    public static IReadOnlyList<string> Numbered(string target, IReadOnlyList<Exercise> exercises)
    {
        var (folder, stem, ending) = (Path.GetDirectoryName(target) ?? "", Path.GetFileNameWithoutExtension(target), Path.GetExtension(target));
        var digits = $"{exercises.Count}".Length;
        var before = stem == "x" ? "" : stem + "-";
        return [.. exercises.Select((e, i) => Path.Combine(folder, $"{before}{(i + 1).ToString(System.Globalization.CultureInfo.InvariantCulture).PadLeft(digits, '0')}-{e.Id}{ending}"))];
    }

    /// <summary>MusicXML that tells <c>hear</c> what is asked of every change.</summary>
    public static void WriteMusicXml(Exercise exercise, Stream stream) => MusicXmlWriter.Write(exercise.Score, null, stream);

    /// <summary>A play-along, as a recipe says or through every tempo: each phrase is played, then it is the pupil's turn.</summary>
    /// <param name="exercise">Any.</param>
    /// <param name="settings">Those it was planned with.</param>
    /// <param name="path">A sound file.</param>
    /// <param name="sound">Null for the usual.</param>
    /// <returns>What was written, or why nothing was.</returns>
    public static Outcome<PlayAlongFile> WriteSound(Exercise exercise, PlanSettings settings, string path, BookSound? sound = null)
    {
        sound ??= new();
        var tempos = sound.TemposOf(exercise).ToList();
        var plans = tempos.Distinct().ToDictionary(t => t, t => PlanAt(exercise, settings, t));
        var schedule = PlayAlongMaker.LayOut([.. tempos.Select(t => plans[t])], PlayAlongWords.Settings(sound));
        if (!schedule.Succeeded) return Outcome<PlayAlongFile>.Failed(schedule.Problems);
        var tags = new SoundTags
        {
            Title = $"{exercise.Title} (play-along)",
            Key = exercise.Part.Bars[0].Key,
            Tempo = tempos[0],
            Comment = $"{exercise.Plan.Instrument.Name}; quarter = {string.Join(", ", plans.Keys.Select(t => $"{t:0.#}"))}. Made by Seamwright.",
        };
        return PlayAlongFile.Write(schedule.Value, path, tags);
    }

    // An exercise is possible in all its tempos: it was planned in them when it was made.
    private static Plan PlanAt(Exercise exercise, PlanSettings settings, double tempo) =>
        Planner.Plan(Unfolder.Play(exercise.Part, exercise.Title, tempo).Value, exercise.Plan.Instrument, settings).Value;
}
