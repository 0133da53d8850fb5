using System.Collections.Immutable;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>What a take leaves open, one sentence each.</summary>
internal static class UnknownThings
{
    /// <summary>Notes that were not found, then changes and notes about which nothing can be said, in order.</summary>
    public static ImmutableArray<string> Of(Take take, Diagnosis diagnosis, Plan plan)
    {
        var lines = ImmutableArray.CreateBuilder<string>();
        var lost = take.Notes.Where(n => !n.Found).ToList();
        if (lost.Count > 0) lines.Add(Lost(lost, plan));
        foreach (var change in plan.Changes)
        {
            foreach (var finding in diagnosis.Changes[change.Index].Findings.Where(f => f.Verdict == Verdict.CannotTell))
                lines.Add($"{TakeParts.PlaceOf(plan, change)}, change {change.Index}: {finding.Basis}");
        }

        foreach (var note in take.Notes.Where(n => n.Found))
        {
            foreach (var finding in diagnosis.Notes[note.Index].Findings.Where(f => f.Verdict == Verdict.CannotTell))
                lines.Add($"{TakeParts.PlaceOf(plan, plan.Notes[note.Index].Note)}, {note.Pitch.ToDisplay()}: {finding.Basis}");
        }

        return lines.ToImmutable();
    }

    private static string Lost(List<HeardNote> lost, Plan plan)
    {
        const int Named = 8;
        var names = lost.Take(Named).Select(n => $"{n.Pitch.ToDisplay()} {(plan.Line.FromRecording ? "" : "in ")}{TakeParts.BarOf(plan, plan.Notes[n.Index].Note)}");
        var more = lost.Count > Named ? $" and {lost.Count - Named} more" : "";
        return $"Not found in the recording: {string.Join(", ", names)}{more}.";
    }
}
