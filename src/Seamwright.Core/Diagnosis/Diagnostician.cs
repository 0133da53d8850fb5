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
        var best = Attempts.BestOf(take);
        var transposed = best < 0 ? 0 : take.Attempts[best].Transposition;
        var (notes, changes) = Judge(take.Notes, take.Changes, transposed, plan, limits);
        return new Diagnosis
        {
            Notes = notes,
            Changes = changes,
            Settings = limits,
            Attempts = [.. take.Attempts.Select((a, i) => JudgeAttempt(a, i == best, plan, limits))],
            Summary = Summarise(take, best, plan, notes, changes),
        };
    }

    /// <summary>Judges every note and change of one attempt.</summary>
    /// <param name="attempt">One of the take's.</param>
    /// <param name="best">Whether it is the one that the take's own notes and changes tell of.</param>
    /// <param name="plan">What was asked.</param>
    /// <param name="limits">Limits in range.</param>
    /// <exception cref="ArgumentException">The attempt does not belong to the plan.</exception>
    internal static AttemptJudgement JudgeAttempt(Attempt attempt, bool best, Plan plan, VerdictSettings limits)
    {
        if (attempt.Notes.Length != plan.Notes.Length || attempt.Changes.Length != plan.Changes.Length)
            throw new ArgumentException($"The attempt has {attempt.Notes.Length} notes and the plan {plan.Notes.Length}.", nameof(attempt));
        var (notes, changes) = Judge(attempt.Notes, attempt.Changes, attempt.Transposition, plan, limits);
        return new AttemptJudgement { Best = best, Notes = notes, Changes = changes };
    }

    private static (ImmutableArray<NoteJudgement> Notes, ImmutableArray<ChangeJudgement> Changes) Judge(
        ImmutableArray<HeardNote> notes, ImmutableArray<HeardChange> changes, int transposed, Plan plan, VerdictSettings limits)
    {
        ChangeCase Case(HeardChange c) => new(c, plan.Changes[c.Index], notes[plan.Changes[c.Index].FromNote], notes[plan.Changes[c.Index].ToNote], plan, limits);
        return ([.. notes.Select(n => NoteJudge.Judge(n, plan, limits, transposed == 0))], [.. changes.Select(c => ChangeJudge.Judge(Case(c)))]);
    }

    private static DiagnosisSummary Summarise(
        Take take, int best, Plan plan, ImmutableArray<NoteJudgement> notes, ImmutableArray<ChangeJudgement> changes)
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
            Overall = plan.Line.FromRecording ? Free(take, plan) : known ? Overall(found, take.Notes.Length, tuning, take.TempoRatio) + Attempts.Words(take, best) : Unknown(found, take.Notes.Length),
        };
    }

    private static string Free(Take take, Plan plan)
    {
        if (take.Notes.IsEmpty) return "No part was given, and no notes are heard.";
        var (low, high) = (plan.Notes.MinBy(n => n.Note.Pitch.Midi)!.Note.Pitch, plan.Notes.MaxBy(n => n.Note.Pitch.Midi)!.Note.Pitch);
        var notes = take.Notes.Length == 1 ? $"1 note was heard, {low.ToDisplay()}" : $"{take.Notes.Length} notes were heard, from {low.ToDisplay()} to {high.ToDisplay()}";
        return $"No part was given: {notes}. {(take.Notes.Length == 1 ? "Its" : "Their")} tuning is told against A4 = {plan.Instrument.A4.Value:0.0} Hz.";
    }

    private static string Unknown(int found, int asked) =>
        $"{(found == 0 ? "None" : $"Only {found}")} of {asked} notes {(found is 0 or 1 ? "was" : "were")} found: this is probably another piece, another key or a damaged recording, so tempo and tuning are not told.";

    private static string Overall(int found, int asked, double? tuning, double? tempo)
    {
        var notes = found < asked ? $"{found} of {asked} notes {(found == 1 ? "was" : "were")} found." : asked == 1 ? "The one note was found." : $"All {asked} notes were found.";
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
