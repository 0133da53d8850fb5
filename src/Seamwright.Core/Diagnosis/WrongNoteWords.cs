using System.Collections.Immutable;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>Wrong notes in a reader's words.</summary>
internal static class WrongNoteWords
{
    /// <summary>Notes in the place of others and notes that were added, for instance <c>bar 7, beat 1 (2nd time): C4 was heard in place of B♭3</c>; in played order.</summary>
    public static ImmutableArray<string> Lines(Plan plan, ImmutableArray<NoteJudgement> notes, ImmutableArray<ChangeJudgement> changes)
    {
        var wrong = notes.SelectMany(n => Of(n.Findings, Verdict.WrongNote).Select(f => (Place: 2 * n.Index, Line: $"{TakeParts.PlaceOf(plan, plan.Notes[n.Index].Note)}: {f.Basis}")));
        var added = changes.SelectMany(c => Of(c.Findings, Verdict.AddedNote).Select(f => (Place: (2 * plan.Changes[c.Index].ToNote) - 1, Line: $"before {TakeParts.PlaceOf(plan, plan.Changes[c.Index])}: {f.Basis}")));
        return [.. wrong.Concat(added).OrderBy(x => x.Place).Select(x => x.Line)];
    }

    private static IEnumerable<Finding> Of(IEnumerable<Finding> findings, Verdict verdict) => findings.Where(f => f.Verdict == verdict);
}
