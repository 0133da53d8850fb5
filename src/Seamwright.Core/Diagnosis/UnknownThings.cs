using System.Collections.Immutable;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>What a take leaves open, one sentence each.</summary>
internal static class UnknownThings
{
    /// <summary>Notes of what was played that were not found, then changes and notes about which nothing can be said, in order.</summary>
    public static ImmutableArray<string> Of(Take take, Diagnosis diagnosis, Plan plan)
    {
        var lines = ImmutableArray.CreateBuilder<string>();
        var lost = take.Notes.Where(n => !n.Found && (!diagnosis.IsRecognised || Extent.Holds(take, n.Index))).ToList();
        if (lost.Count > 0) lines.Add(Lost(lost, plan));
        foreach (var stretch in Stretches(diagnosis.Changes.Where(c => !diagnosis.IsRecognised || take.Holds(plan.Changes[c.Index])))) lines.Add(Open(stretch, plan));

        foreach (var note in take.Notes.Where(n => n.Found))
        {
            foreach (var finding in diagnosis.Notes[note.Index].Findings.Where(f => f.Verdict == Verdict.CannotTell))
                lines.Add($"{TakeParts.PlaceOf(plan, plan.Notes[note.Index].Note)}, {note.Pitch.ToDisplay()}: {finding.Basis}");
        }

        return lines.ToImmutable();
    }

    // Neighbours that are open for one reason are told together.
    private static IEnumerable<(int First, int Last, string Basis)> Stretches(IEnumerable<ChangeJudgement> changes)
    {
        var open = changes.SelectMany(c => c.Findings.Where(f => f.Verdict == Verdict.CannotTell).Select(f => (c.Index, f.Basis)).Distinct()).ToList();
        for (var i = 0; i < open.Count;)
        {
            var start = i++;
            while (i < open.Count && open[i].Index == open[i - 1].Index + 1 && open[i].Basis == open[start].Basis) i++;
            yield return (open[start].Index, open[i - 1].Index, open[start].Basis);
        }
    }

    private static string Open((int First, int Last, string Basis) stretch, Plan plan)
    {
        var (first, last, basis) = stretch;
        var place = TakeParts.PlaceOf(plan, plan.Changes[first]);
        return first == last
            ? $"{place}: {basis}"
            : $"{place} to {TakeParts.PlaceOf(plan, plan.Changes[last])}, {last - first + 1} changes: {basis}";
    }

    private static string Lost(List<HeardNote> lost, Plan plan)
    {
        const int Named = 8;
        var names = lost.Take(Named).Select(n => $"{n.Pitch.ToDisplay()} {(plan.Line.FromRecording ? "" : "in ")}{TakeParts.BarOf(plan, plan.Notes[n.Index].Note)}");
        var more = lost.Count > Named ? $" and {lost.Count - Named} more" : "";
        return $"Not found in the recording: {string.Join(", ", names)}{more}.";
    }
}
