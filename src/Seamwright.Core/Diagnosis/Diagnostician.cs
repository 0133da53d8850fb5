using System.Collections.Immutable;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Diagnosis;

/// <summary>What was heard against what was asked.</summary>
public static class Diagnostician
{
    /// <summary>Judges every note and change of a take.</summary>
    /// <param name="take">Measurements, one for each note and change of the plan.</param>
    /// <param name="plan">What was asked.</param>
    /// <param name="settings">Limits; null for the defaults.</param>
    /// <exception cref="ArgumentException">The take does not belong to the plan, or a limit is out of range.</exception>
    public static Diagnosis Judge(Take take, Plan plan, VerdictSettings? settings = null)
    {
        var limits = settings ?? VerdictSettings.Default;
        if (limits.Validate() is { IsEmpty: false } wrong) throw new ArgumentException(string.Join(" ", wrong), nameof(settings));
        if (take.Notes.Length != plan.Notes.Length || take.Changes.Length != plan.Changes.Length)
            throw new ArgumentException($"The take has {take.Notes.Length} notes and the plan {plan.Notes.Length}.", nameof(take));
        ImmutableArray<NoteJudgement> notes = [.. take.Notes.Select(n => NoteJudge.Judge(n, plan, limits))];
        ImmutableArray<ChangeJudgement> changes = [.. take.Changes.Select(c => ChangeJudge.Judge(c, plan, limits))];
        return new Diagnosis { Notes = notes, Changes = changes, Settings = limits, Summary = Summarise(take, plan, notes, changes) };
    }

    private static DiagnosisSummary Summarise(
        Take take, Plan plan, ImmutableArray<NoteJudgement> notes, ImmutableArray<ChangeJudgement> changes)
    {
        var found = take.Notes.Count(n => n.Found);
        var known = 2 * found >= take.Notes.Length;
        var tuning = Median(take.Notes.Where(n => n.Cents is not null).Select(n => n.Cents!.Value.Value));
        return new DiagnosisSummary
        {
            NotesAsked = take.Notes.Length,
            NotesFound = found,
            ChangeCounts = Count(changes.SelectMany(c => c.Verdicts)),
            NoteCounts = Count(notes.SelectMany(n => n.Verdicts)),
            WorkOnFirst = WorkList.Of(plan, notes, changes),
            Tuning = known && tuning is { } t ? new Cents(t) : null,
            TempoRatio = known ? take.TempoRatio : null,
            Overall = known ? Overall(found, take.Notes.Length, tuning, take.TempoRatio) : Unknown(found, take.Notes.Length),
        };
    }

    private static string Unknown(int found, int asked) =>
        $"Only {found} of {asked} notes were found: this is probably another piece, another key or a damaged recording, so tempo and tuning are not told.";

    private static string Overall(int found, int asked, double? tuning, double? tempo)
    {
        var notes = found == asked ? $"All {asked} notes were found." : $"{found} of {asked} notes were found.";
        var pitch = tuning switch
        {
            null => "",
            { } t when Math.Abs(t) < 3 => " The whole is in tune with the plan's A.",
            { } t => $" The whole lies {Math.Abs(t):0} cents {(t > 0 ? "above" : "below")} the plan's pitch.",
        };
        var pace = tempo switch
        {
            null => "",
            { } r when Math.Abs(r - 1) < 0.015 => " Tempo as planned.",
            { } r => $" Tempo {Math.Abs(r - 1) * 100:0} % {(r > 1 ? "faster" : "slower")} than planned.",
        };
        return notes + pitch + pace;
    }

    private static ImmutableSortedDictionary<Verdict, int> Count(IEnumerable<Verdict> verdicts) =>
        verdicts.GroupBy(v => v).ToImmutableSortedDictionary(g => g.Key, g => g.Count());

    private static double? Median(IEnumerable<double> values)
    {
        var sorted = values.Order().ToList();
        if (sorted.Count == 0) return null;
        var middle = sorted.Count / 2;
        return sorted.Count % 2 == 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
    }
}
