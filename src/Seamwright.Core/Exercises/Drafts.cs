namespace Seamwright.Core.Exercises;

/// <summary>Finishes what a kind has drafted.</summary>
internal static class Drafts
{
    /// <summary>Finishes those a pupil can play: by level, so that what is printed rises; within a level by keys round the circle of fifths from the horn's own
    /// through the flats, and by difficulty. What was left out is told as a note.</summary>
    /// <returns>An error where none can be played.</returns>
    public static Outcome<ExerciseSet> Finish(IEnumerable<ExerciseDraft> drafts, Pupil pupil)
    {
        var finished = drafts.Select(d => (Draft: d, Made: d.Finish(pupil))).ToList();
        var good = finished.Where(f => f.Made.Succeeded).OrderBy(f => f.Made.Value.Level).ThenBy(f => Circle(f.Draft, pupil))
            .ThenBy(f => f.Made.Value.Difficulty).ThenBy(f => f.Made.Value.Id, StringComparer.Ordinal).Select(f => f.Made.Value).ToList();
        var reasons = finished.Where(f => !f.Made.Succeeded).SelectMany(f => f.Made.Problems.Select(p => p with { Where = $"{f.Draft.Title}, {p.Where}" })).ToList();
        return good.Count == 0
            ? Outcome<ExerciseSet>.Failed(reasons.Count > 0 ? reasons : [Nothing(pupil)])
            : Outcome<ExerciseSet>.Of(new ExerciseSet([.. good]), [.. reasons.Select(r => r with { Severity = Severity.Note })]);
    }

    /// <summary>The same for steps that nobody asked for one by one: those beyond the next level are left out and told, so that a series ends
    /// where the pupil's level does; the easiest stays.</summary>
    public static Outcome<ExerciseSet> FinishSeries(IEnumerable<ExerciseDraft> drafts, Pupil pupil)
    {
        var all = Finish(drafts, pupil);
        if (!all.Succeeded) return all;
        var kept = all.Value.Exercises.Where((e, i) => i == 0 || e.Level <= pupil.Level + 1).ToList();
        var late = all.Value.Exercises.Except(kept).Select(e => new Problem(e.Title, $"is for level {e.Level} and left out.", "Order it with a higher level.", Severity.Note));
        return Outcome<ExerciseSet>.Of(new ExerciseSet([.. kept]), [.. all.Problems, .. late]);
    }

    // Fifths down from the horn's own key, 0 to 11; 0 for what stands in no key.
    private static int Circle(ExerciseDraft draft, Pupil pupil) => draft.Fifths is { } fifths ? (((pupil.Instrument.Pedal.Name.Fifths - fifths) % 12) + 12) % 12 : 0;

    private static Problem Nothing(Pupil pupil)
    {
        var reach = pupil.Settings.Player.FurthestPosition is { } furthest ? $", slide as far as position {furthest:0.#}" : "";
        return new("the order", $"nothing of it fits this pupil's range and reach ({pupil.Lowest.ToDisplay()} to {pupil.Highest.ToDisplay()} on {pupil.Instrument.Id}{reach}).", "Choose another key, register or level; where a scale may lie anywhere, name no key.", Severity.Error);
    }
}
