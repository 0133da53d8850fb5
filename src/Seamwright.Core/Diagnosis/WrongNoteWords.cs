using System.Collections.Immutable;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>Wrong notes in a reader's words.</summary>
internal static class WrongNoteWords
{
    /// <summary>For instance <c>bar 7, beat 1 (2nd time): C4 was heard in place of B♭3</c>; in played order.</summary>
    public static ImmutableArray<string> Lines(Plan plan, ImmutableArray<NoteJudgement> notes) =>
    [
        .. notes.SelectMany(n => n.Findings.Where(f => f.Verdict == Verdict.WrongNote).Select(f => $"{TakeParts.PlaceOf(plan, plan.Notes[n.Index].Note)}: {f.Basis}")),
    ];
}
