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
        var (notes, changes) = Judge(take.Track, take.Notes, take.Changes, transposed, plan, limits);
        var known = Extent.IsKnown(take, plan);
        if (take.Notes.Any(n => n.Found) && !known) (notes, changes) = ([.. notes.Select(Unsaid)], [.. changes.Select(Unsaid)]);
        ImmutableArray<AttemptJudgement> attempts = [.. take.Attempts.Select((a, i) => JudgeAttempt(take.Track, a, i == best, plan, limits))];
        return new Diagnosis
        {
            Notes = notes,
            Changes = changes,
            IsRecognised = known && take.Notes.Any(n => n.Found),
            Settings = limits,
            Aims = known ? Aim.Of(notes, changes, plan) : [],
            TonePairs = known ? TonePair.Of(take, plan) : [],
            Attempts = attempts,
            Summary = Summarise(take, best, plan, limits, notes, changes) with
            {
                Attempt = best < 0 ? null : best,
                Comparison = known ? AttemptComparison.Of(take, attempts, plan, best) : [],
            },
        };
    }

    /// <summary>Judges every note and change of one attempt.</summary>
    /// <param name="track">The take's.</param>
    /// <param name="attempt">One of the take's.</param>
    /// <param name="best">Whether it is the one that the take's own notes and changes tell of.</param>
    /// <param name="plan">What was asked.</param>
    /// <param name="limits">Limits in range.</param>
    /// <exception cref="ArgumentException">The attempt does not belong to the plan.</exception>
    internal static AttemptJudgement JudgeAttempt(Track track, Attempt attempt, bool best, Plan plan, VerdictSettings limits)
    {
        if (attempt.Notes.Length != plan.Notes.Length || attempt.Changes.Length != plan.Changes.Length)
            throw new ArgumentException($"The attempt has {attempt.Notes.Length} notes and the plan {plan.Notes.Length}.", nameof(attempt));
        var (notes, changes) = Judge(track, attempt.Notes, attempt.Changes, attempt.Transposition, plan, limits);
        var judged = new AttemptJudgement { Best = best, Notes = notes, Changes = changes };
        return judged with { Open = OpenChanges.In(attempt, judged).Open };
    }

    private static (ImmutableArray<NoteJudgement> Notes, ImmutableArray<ChangeJudgement> Changes) Judge(
        Track track, ImmutableArray<HeardNote> notes, ImmutableArray<HeardChange> changes, int transposed, Plan plan, VerdictSettings limits)
    {
        ChangeCase Case(HeardChange c) => new(c, plan.Changes[c.Index], notes[plan.Changes[c.Index].FromNote], notes[plan.Changes[c.Index].ToNote], plan, limits) { Notes = notes };
        var own = plan.Line.FromRecording ? null : OwnTuning.Of(notes);
        return ([.. notes.Select(n => NoteJudge.Judge(n, plan, limits, transposed == 0, own, ImaginedTone.TouchesIn(n, plan, track, limits)))], [.. changes.Select(c => ChangeJudge.Judge(Case(c)))]);
    }

    private static DiagnosisSummary Summarise(
        Take take, int best, Plan plan, VerdictSettings limits, ImmutableArray<NoteJudgement> notes, ImmutableArray<ChangeJudgement> changes)
    {
        var found = take.Notes.Count(n => n.Found);
        var known = Extent.IsKnown(take, plan);
        var tuning = Median(take.Notes.Where(n => n.Cents is not null).Select(n => n.Cents!.Value.Value));
        var own = plan.Line.FromRecording ? null : OwnTuning.Of(take.Notes);
        var tune = known ? TuningWords.Work(own, plan.Instrument, limits) : null;
        return new DiagnosisSummary
        {
            NotesAsked = take.Notes.Length,
            NotesFound = found,
            ChangeCounts = Count(changes.SelectMany(c => c.Verdicts)),
            NoteCounts = Count(notes.SelectMany(n => n.Verdicts)),
            WorkOnFirst = known ? WorkList.Of(plan, tune, notes, changes) : [],
            Tuning = !known ? null : own is { } o ? o.Cents : tuning is { } t ? new Cents(t) : null,
            OwnTuning = known ? own : null,
            TuningSlide = tune is null ? null : TuningWords.Reachable(own!.Value.Cents, plan.Instrument),
            TempoRatio = known ? take.TempoRatio : null,
            Overall = known ? OpenChanges.In(take, changes, plan).Opening + Overall(take, best, plan, TuningWords.Overall(own, tuning)) : Unknown(take, found),
        };
    }

    private static string Overall(Take take, int best, Plan plan, string tuning) =>
        plan.Line.FromRecording ? Free(take, plan) : Overall(Extent.Words(take, plan), tuning, take.TempoRatio) + Attempts.Words(take, best);

    private static string Free(Take take, Plan plan)
    {
        if (take.Notes.IsEmpty) return "No part was given, and no notes are heard.";
        var (low, high) = (plan.Notes.MinBy(n => n.Note.Pitch.Midi)!.Note.Pitch, plan.Notes.MaxBy(n => n.Note.Pitch.Midi)!.Note.Pitch);
        var notes = take.Notes.Length == 1 ? $"1 note was heard, {low.ToDisplay()}" : $"{take.Notes.Length} notes were heard, from {low.ToDisplay()} to {high.ToDisplay()}";
        return $"No part was given: {notes}. {(take.Notes.Length == 1 ? "Its" : "Their")} tuning is told against A4 = {plan.Instrument.A4.Value:0.0} Hz.";
    }

    // Of another piece nothing is worth saying.
    private static readonly Finding OtherPiece = Finding.Open("", OpenReason.OtherPiece);

    private static NoteJudgement Unsaid(NoteJudgement n) =>
        new() { Index = n.Index, Findings = [OtherPiece], Advice = "This is probably another piece." };

    private static ChangeJudgement Unsaid(ChangeJudgement c) =>
        new() { Index = c.Index, Kind = c.Kind, Intent = c.Intent, Findings = [OtherPiece], Advice = "This is probably another piece.", Weight = 0 };

    private static string Unknown(Take take, int found) => !take.Track.Frames.IsEmpty && take.Track.Frames.All(f => f.Pitch is null)
        ? "No tone is heard in this recording."
        : $"{(found == 0 ? "None" : $"Only {found}")} of {take.Notes.Length} notes {(found is 0 or 1 ? "was" : "were")} found: this is probably another piece, another key or a damaged recording, so tempo and tuning are not told.";

    private static string Overall(string notes, string pitch, double? tempo)
    {
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
