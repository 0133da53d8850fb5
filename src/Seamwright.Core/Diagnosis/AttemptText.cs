using System.Collections.Immutable;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>Attempts, stray sound and the room for a terminal, one entry a line.</summary>
internal static class AttemptText
{
    private const int MostStretches = 5;

    /// <summary>One line an attempt, then how full ones compare; empty for a single one as written.</summary>
    /// <param name="take">With its attempts.</param>
    /// <param name="diagnosis">Of this take.</param>
    /// <param name="named">Whether each begins with the word, for a list that has signs of its own.</param>
    public static ImmutableArray<string> Attempts(Take take, Diagnosis diagnosis, bool named = false)
    {
        if (diagnosis.Attempts.Length != take.Attempts.Length) return [];
        if (take.Attempts.Length < 2 && take.Attempts.All(a => a.Transposition == 0)) return [];
        return [.. take.Attempts.Select((a, i) => Line(named ? $"Attempt {i + 1}," : $"{i + 1}.", a, diagnosis.Attempts[i])), .. diagnosis.Summary.Comparison];
    }

    /// <summary>Where sound belongs to no note; the longest ones where there are many, in time order.</summary>
    /// <remarks>What is told as a wrong or an added note is left out.</remarks>
    public static ImmutableArray<string> Unmatched(Take take, Diagnosis diagnosis, Plan plan)
    {
        var told = ToldTones.Of(take, diagnosis, plan);
        var untold = take.Unmatched.Where(u => u.Kind != UnmatchedKind.Tones || !told.Exists(t => t.Holds(u))).ToList();
        var shown = untold.OrderByDescending(u => u.End - u.Start).Take(MostStretches).OrderBy(u => u.Start).ToList();
        var more = untold.Count - shown.Count;
        var lines = shown.Select(u => $"{Span(u.Start.Value, u.End.Value)}: {(u.Kind == UnmatchedKind.Tones ? "tones that are not in the part here" : "speech, steps or other noise")}");
        return more > 0 ? [.. lines, $"and {more} shorter"] : [.. lines];
    }

    /// <summary>How far room and microphone limit what can be told; null where nothing is known.</summary>
    public static string? Room(Take take)
    {
        if (take.Room is not { } room) return null;
        var reverberation = room.Reverberation is { } r ? $", reverberation {r.Value:0.0} s" : "";
        var echo = room is { EchoDelay: { } after, EchoLevel: { } level } ? $", an echo after {after.Milliseconds:0} ms {-level.Value:0} dB below the sound" : "";
        var clipped = room.Clipped > 0 ? $", {room.Clipped * 100:0.##} % of the samples at full scale" : "";
        return $"Room: noise {room.ToneToNoise.Value:0} dB below the notes{reverberation}{echo}{clipped}.";
    }

    private static string Line(string number, Attempt attempt, AttemptJudgement judgement)
    {
        var changes = attempt.Changes.Count(c => c.Found);
        var open = OpenChanges.In(attempt, judgement);
        var mend = changes == 0 ? "" : open.IsMuch ? $", {open.Words} ({open.Reason!.Words}), {judgement.ToMend} to mend" : $", {judgement.ToMend} of {changes} changes to mend";
        var key = attempt.Transposition == 0 ? "" : $", {Core.Diagnosis.Attempts.Transposed(attempt.Transposition)}";
        var best = judgement.Best ? "; told here" : "";
        return $"{number} {Span(attempt.Start.Value, attempt.End.Value)}: {attempt.NotesFound} of {attempt.Notes.Length} notes{mend}{key}{best}";
    }

    private static string Span(double from, double to) => $"{Core.Diagnosis.Attempts.Clock(from)} to {Core.Diagnosis.Attempts.Clock(to)}";
}
