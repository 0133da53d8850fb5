using Seamwright.Core.Planning;
using Seamwright.Core.Scores;

namespace Seamwright.Core.Exercises;

/// <summary>Plans a study so that a note is played in one place wherever it comes.</summary>
/// <remarks>Common practice: in a scale the hand learns one place for each note, up and down, slow and quick; other places are an exercise of their own. Of the places the
/// planner took by itself the commonest stays; where two are as common, the chart's, then the one with fewer valves, then the nearer one. The
/// others are banned and the whole is planned again.</remarks>
internal static class OnePlace
{
    // A ban can split another note; each round settles at least one for good.
    private const int Rounds = 4;

    /// <summary>The plan with one setting for each pitch, or the plan given where it has that already.</summary>
    /// <param name="free">As the planner has it.</param>
    /// <param name="part">What is planned.</param>
    /// <param name="pupil">Whose settings.</param>
    /// <param name="tempo">Quarter notes a minute.</param>
    public static Plan Of(Plan free, Part part, Pupil pupil, double tempo)
    {
        var plan = free;
        for (var round = 0; round < Rounds && Split(plan) is { Count: > 0 } split; round++)
        {
            pupil = pupil with { Settings = pupil.Settings with { Bans = [.. pupil.Settings.Bans, .. split.SelectMany(s => Others(s, pupil))] } };
            if (Unfolder.Play(part, "", tempo) is not { Succeeded: true } line || Planner.Plan(line.Value, pupil.Instrument, pupil.Settings) is not { Succeeded: true } again || again.Value.Notes.Any(n => n.Setting is null)) return plan;
            plan = again.Value;
        }

        return plan;
    }

    private static List<List<PlannedNote>> Split(Plan plan) =>
        [.. plan.Notes.Where(n => n.Setting is not null).GroupBy(n => n.Note.Pitch.Midi).Where(g => g.Select(n => n.Setting).Distinct().Count() > 1).Select(g => g.ToList())];

    private static IEnumerable<SettingPattern> Others(List<PlannedNote> notes, Pupil pupil)
    {
        var usual = pupil.Instrument.UsualSetting(notes[0].Note.Pitch);
        var kept = notes.GroupBy(n => n.Setting!).OrderByDescending(g => g.Count()).ThenBy(g => !g.Key.Equals(usual)).ThenBy(g => g.Key.Valves.Length).ThenBy(g => g.Key.Travel.Value).First().Key;
        return pupil.SettingsFor(notes[0].Note.Pitch).Where(s => !s.Equals(kept)).Select(SettingPattern.Of);
    }
}
