using Seamwright.Core.Listening;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>One sentence a pupil can act on, for the worst that was found at a change.</summary>
internal static class ChangeAdvice
{
    private static readonly Verdict[] WorstFirst =
    [
        Verdict.AirStopped, Verdict.Cracked, Verdict.TongueLate, Verdict.TongueEarly, Verdict.NoTongue, Verdict.Smear, Verdict.TooHard,
        Verdict.Bump, Verdict.SmearPossible, Verdict.CannotTell,
    ];

    public static string For(IReadOnlyList<Finding> findings, HeardChange heard, NoteChange change)
    {
        var worst = WorstFirst.FirstOrDefault(v => findings.Any(f => f.Verdict == v));
        return worst switch
        {
            Verdict.AirStopped => $"The air stopped for {heard.Gap?.Milliseconds:0} ms: keep blowing as if it were one long note and let only the tip of the tongue touch.",
            Verdict.Cracked => "A wrong note was caught on the way: hear the new note before you move, and keep the air steady across.",
            Verdict.NoTongue => $"The slide was heard for {heard.AudibleGlide?.Milliseconds:0} ms and no tongue hid it: touch lightly while the arm moves.",
            Verdict.Smear => Smear(heard, change),
            Verdict.TooHard => $"The touch was too hard ({heard.Dip?.Value:0} dB): say it softer and shorter, the air goes on underneath.",
            Verdict.TongueLate => $"The tongue touched {heard.TongueOffset?.Milliseconds:0} ms after the arm was half way: touch earlier, while the slide is still moving.",
            Verdict.TongueEarly => $"The tongue touched {-heard.TongueOffset?.Milliseconds:0} ms before the arm was half way: wait for the slide, then both together.",
            Verdict.Bump => $"The new note burst out by {heard.Overshoot?.Value:0} dB: the same air through both notes, no push.",
            Verdict.SmearPossible => $"The slide may be heard ({heard.AudibleGlide?.Milliseconds:0} ms): wait a little longer, then move a little faster.",
            Verdict.CannotTell => "This recording does not settle it.",
            _ => change.Kind == ChangeKind.Breath ? "A breath: nothing to judge." : "Clean.",
        };
    }

    private static string Smear(HeardChange heard, NoteChange change)
    {
        var what = $"The slide was heard for {heard.AudibleGlide?.Milliseconds:0} ms";
        return change.Kind switch
        {
            ChangeKind.SoftTongue => $"{what}: stay on the first note longer, then move fast and touch in the middle of the move.",
            ChangeKind.NaturalSlur or ChangeKind.ValveSlur => $"{what}, where the note should break by itself: let arm and lips change in the same moment.",
            _ => $"{what}: have the slide in place before the new note begins.",
        };
    }
}
