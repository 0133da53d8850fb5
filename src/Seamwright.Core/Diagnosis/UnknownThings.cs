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
        var moved = plan.Changes.Where(c => diagnosis.Changes[c.Index].Verdicts.Contains(Verdict.AddedNote)).Select(c => AddedNotes.Moved(plan, c, take.Changes[c.Index], take.Notes)).OfType<int>().ToHashSet();
        var lost = take.Notes.Where(n => n is { Found: false, Instead: null } && (!diagnosis.IsRecognised || Extent.Holds(take, n.Index)) && !moved.Contains(n.Index)).ToList();
        var changes = diagnosis.Changes.Where(c => !diagnosis.IsRecognised || Extent.Holds(take, plan.Changes[c.Index]));
        return
        [
            .. lost.Count == 0 ? [] : new[] { Lost(lost, plan) },
            .. Told([.. changes.SelectMany(c => Open(c.Findings, plan.Changes[c.Index].ToNote))], "change", plan),
            .. Told([.. take.Notes.Where(n => n.Found).SelectMany(n => Open(diagnosis.Notes[n.Index].Findings, n.Index))], "note", plan),
        ];
    }

    // With whether something else is sure.
    private static IEnumerable<(int Note, Finding Finding, bool Beside)> Open(ImmutableArray<Finding> findings, int note)
    {
        var beside = TakeParts.Worst(findings) != Verdict.CannotTell;
        return findings.Where(f => f.Why is not null).Select(f => (note, f, beside));
    }

    private static IEnumerable<string> Told(List<(int Note, Finding Finding, bool Beside)> open, string what, Plan plan)
    {
        var groups = open.GroupBy(o => FigureRanges.Wording(o.Finding.Why!.Words)).OrderByDescending(g => g.Select(o => o.Note).Distinct().Count());
        var before = new HashSet<int>();
        foreach (var group in groups)
        {
            var notes = group.Select(o => o.Note).Distinct().ToList();
            var reason = FigureRanges.Merged(group.Select(o => o.Finding.Why!.Words)).First();
            var counted = Beside([.. group.Where(o => o.Beside).Select(o => o.Note).Distinct()], before, notes);
            yield return $"{Capital(reason)}, {(notes.Count == 1 ? $"1 {what}" : $"{notes.Count} {what}s")}{counted} ({PlaceWords.Beats(plan, notes, Named)}){Questions(group.Select(o => o.Finding.What))}";
            before.UnionWith(notes);
        }
    }

    // The head counts each change once, and none of which something is sure: what differs from it is said.
    private static string Beside(HashSet<int> sure, HashSet<int> before, List<int> notes)
    {
        var again = notes.Count(n => before.Contains(n) && !sure.Contains(n));
        string[] said = [sure.Count == 0 ? "" : $"{Share(sure.Count, notes.Count)} to mend all the same", again == 0 ? "" : $"{Share(again, notes.Count)} counted above already"];
        return string.Concat(said.Where(s => s.Length > 0).Select(s => $", {s}"));
    }

    private static string Share(int some, int all) => some < all ? $"{some} of them" : all == 1 ? "which is" : "which are";

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
