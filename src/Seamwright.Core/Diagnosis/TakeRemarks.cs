using Seamwright.Core.Listening;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>What was heard beside the verdicts and is worth a line: other settings than planned, how the arm moved where it matters.</summary>
internal static class TakeRemarks
{
    private const int Most = 8;

    /// <summary>One line a place, in order of the line.</summary>
    /// <param name="take">What was heard.</param>
    /// <param name="diagnosis">With the remarks.</param>
    /// <param name="plan">What was asked.</param>
    /// <param name="whereTheRest">Where those beyond the first eight stand; null for all.</param>
    public static IEnumerable<string> Of(Take take, Diagnosis diagnosis, Plan plan, string? whereTheRest)
    {
        var together = VibratoWords.Together(take);
        var lines = Notes(take, diagnosis, plan, together is not null).Concat(Changes(diagnosis, plan)).OrderBy(x => x.Place).Select(x => x.Line).ToList();
        if (together is not null) lines.Insert(0, together);
        return whereTheRest is null || lines.Count <= Most + 1 ? lines : lines.Take(Most).Append($"and {lines.Count - Most} more: {whereTheRest}");
    }

    private static IEnumerable<(int Place, string Line)> Notes(Take take, Diagnosis diagnosis, Plan plan, bool together)
    {
        foreach (var note in diagnosis.Notes)
        {
            var remarks = VibratoWords.Others(note.Remarks, take.Notes[note.Index], together).ToList();
            if (remarks.Count == 0) continue;
            var played = plan.Notes[note.Index].Note;
            yield return (2 * note.Index, $"{TakeParts.PlaceOf(plan, played)}, {played.Pitch.ToDisplay()}: {string.Join(" ", remarks)}");
        }
    }

    private static string Pair(Plan plan, NoteChange change) => $"{plan.Notes[change.FromNote].Note.Pitch.ToDisplay()} to {plan.Notes[change.ToNote].Note.Pitch.ToDisplay()}";

    // The arm's figures are told where the change is to be mended or an exercise asks about the arm.
    private static IEnumerable<(int Place, string Line)> Changes(Diagnosis diagnosis, Plan plan)
    {
        foreach (var change in diagnosis.Changes.Where(c => !c.Remarks.IsEmpty))
        {
            var guessed = plan.Line.FromRecording && change.Kind == ChangeKind.Glissando;
            if (!guessed && change.Intent is null && TakeParts.Worst(change.Findings).Gravity() is not (Gravity.Fault or Gravity.Watch)) continue;
            yield return ((2 * plan.Changes[change.Index].ToNote) - 1, $"{TakeParts.PlaceOf(plan, plan.Changes[change.Index])}, {Pair(plan, plan.Changes[change.Index])}: {string.Join(" ", change.Remarks)}");
        }
    }
}
