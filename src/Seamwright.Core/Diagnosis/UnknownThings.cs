using System.Collections.Immutable;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>What a take leaves open, one sentence a reason.</summary>
internal static class UnknownThings
{
    private const int Named = 6;
    private const int MostQuestions = 4;

    /// <summary>Notes of what was played that were not found and in whose place nothing else was, then changes and notes about which nothing can be said, the most frequent reason first.</summary>
    public static ImmutableArray<string> Of(Take take, Diagnosis diagnosis, Plan plan)
    {
        var lost = take.Notes.Where(n => n is { Found: false, Instead: null } && (!diagnosis.IsRecognised || Extent.Holds(take, n.Index))).ToList();
        var changes = diagnosis.Changes.Where(c => !diagnosis.IsRecognised || take.Holds(plan.Changes[c.Index]));
        return
        [
            .. lost.Count == 0 ? [] : new[] { Lost(lost, plan) },
            .. Told(changes.SelectMany(c => Open(c.Findings).Select(f => (plan.Changes[c.Index].ToNote, f))), "change", plan),
            .. Told(take.Notes.Where(n => n.Found).SelectMany(n => Open(diagnosis.Notes[n.Index].Findings).Select(f => (n.Index, f))), "note", plan),
        ];
    }

    private static IEnumerable<Finding> Open(IEnumerable<Finding> findings) => findings.Where(f => f.Why is not null);

    private static IEnumerable<string> Told(IEnumerable<(int Note, Finding Finding)> open, string what, Plan plan) => open
        .GroupBy(o => FigureRanges.Wording(o.Finding.Why!.Words))
        .Select(g => (Notes: g.Select(o => o.Note).Distinct().ToList(), Reason: FigureRanges.Merged(g.Select(o => o.Finding.Why!.Words)).First(), Whats: g.Select(o => o.Finding.What)))
        .OrderByDescending(g => g.Notes.Count)
        .Select(g => $"{Capital(g.Reason)}, {(g.Notes.Count == 1 ? $"1 {what}" : $"{g.Notes.Count} {what}s")} ({PlaceWords.Beats(plan, g.Notes, Named)}){Questions(g.Whats)}");

    private static string Questions(IEnumerable<string> whats)
    {
        var told = FigureRanges.Merged(whats.Where(w => w.Length > 0)).ToList();
        if (told.Count == 0) return "";
        return $": {string.Join("; ", told.Take(MostQuestions))}{(told.Count > MostQuestions ? $"; and {told.Count - MostQuestions} more questions of the kind" : "")}";
    }

    private static string Lost(List<HeardNote> lost, Plan plan)
    {
        const int Most = 8;
        var names = lost.Take(Most).Select(n => $"{n.Pitch.ToDisplay()} {Place(plan.Notes[n.Index].Note, plan)}");
        var more = lost.Count > Most ? $" and {lost.Count - Most} more" : "";
        return $"Not found in the recording: {string.Join(", ", names)}{more}.";
    }

    private static string Place(Scores.PlayedNote note, Plan plan) =>
        plan.Line.FromRecording ? TakeParts.PlaceOf(plan, note) : $"in bar {note.Bar}{TakeParts.PassWords(note.Pass)}";

    private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];
}
