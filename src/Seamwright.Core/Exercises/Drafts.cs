namespace Seamwright.Core.Exercises;

/// <summary>Finishes what a kind has drafted.</summary>
internal static class Drafts
{
    /// <summary>Finishes those a pupil can play, easiest first; what was left out is told as a note.</summary>
    /// <returns>An error where none can be played.</returns>
    public static Outcome<ExerciseSet> Finish(IEnumerable<ExerciseDraft> drafts, Pupil pupil)
    {
        var finished = drafts.Select(d => (Draft: d, Made: d.Finish(pupil))).ToList();
        var good = finished.Where(f => f.Made.Succeeded).Select(f => f.Made.Value).OrderBy(e => e.Difficulty).ThenBy(e => e.Id, StringComparer.Ordinal).ToList();
        var reasons = finished.Where(f => !f.Made.Succeeded).SelectMany(f => f.Made.Problems.Select(p => p with { Where = $"{f.Draft.Title}, {p.Where}" })).ToList();
        return good.Count == 0
            ? Outcome<ExerciseSet>.Failed(reasons.Count > 0 ? reasons : [new("the order", "nothing of it fits this pupil's range.", "Choose another key, register or level.", Severity.Error)])
            : Outcome<ExerciseSet>.Of(new ExerciseSet([.. good]), [.. reasons.Select(r => r with { Severity = Severity.Note })]);
    }
}
