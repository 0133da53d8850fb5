using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>One sentence a pupil can act on, for the worst that was found at a change.</summary>
internal static class ChangeAdvice
{
    private static readonly Verdict[] WorstFirst =
    [
        Verdict.AddedNote, Verdict.AirStopped, Verdict.Cracked, Verdict.TongueLate, Verdict.TongueEarly, Verdict.NoTongue, Verdict.Smear, Verdict.Slid, Verdict.Broke,
        Verdict.TooHard, Verdict.TongueHeard, Verdict.NoTouch, Verdict.TooShortSlide, Verdict.Bump, Verdict.Crept, Verdict.AirChanged, Verdict.Unsteady,
        Verdict.SmearPossible, Verdict.CannotTell,
    ];

    public static string For(IReadOnlyList<Finding> findings, ChangeCase c)
    {
        var worst = WorstFirst.Select(v => findings.FirstOrDefault(f => f.Sure == v)).FirstOrDefault(f => f is not null);
        return Of(worst?.Verdict ?? default, findings, c);
    }

    /// <summary>The sentence for one of the findings.</summary>
    public static string Of(Verdict verdict, IReadOnlyList<Finding> findings, ChangeCase c)
    {
        var heard = c.Heard;
        return verdict switch
        {
            Verdict.AirStopped => $"The air stopped for {Readings.Gap(heard)?.Value * 1000:0} ms: keep blowing as if it were one long note{(c.TongueAsked ? " and let only the tip of the tongue touch" : ", and leave the tongue out")}.",
            Verdict.Cracked => "A wrong note was caught on the way: hear the new note before you move, and keep the air steady across.",
            Verdict.AddedNote => $"{findings.First(f => f.Verdict == Verdict.AddedNote).Basis}: play the notes that are written.",
            Verdict.NoTongue => NoTongue(findings, c),
            Verdict.Smear => Smear(c),
            Verdict.TooHard when !c.TongueAsked => $"The sound stayed away too long ({Readings.Below10(heard)?.Value * 1000:0} ms): blow through, so that the new note is there at once.",
            Verdict.TooHard => $"The touch was too hard ({DipFigure.Of(heard)}): say it softer and shorter, the air goes on underneath.",
            Verdict.TongueLate => $"The tongue touched {OffAim(c):0} ms after {Aim(c)}: touch earlier, while the slide is still moving.",
            Verdict.TongueEarly => $"The tongue touched {-OffAim(c):0} ms before {Aim(c)}: wait for the slide, then both together.",
            Verdict.Bump => $"The new note burst out by {heard.Overshoot?.Value:0} dB: the same air through both notes, no push.",
            Verdict.SmearPossible when IsApart(c) => $"The slide may be heard ({heard.AudibleGlide?.Milliseconds:0} ms): {Apart(c)}.",
            Verdict.SmearPossible => $"The slide may be heard ({heard.AudibleGlide?.Milliseconds:0} ms): wait a little longer, then move a little faster.",
            Verdict.CannotTell when findings.Any(f => f.AtLeast is not null) => EitherWay(findings.First(f => f.AtLeast is not null), c),
            Verdict.CannotTell => $"This recording does not settle it: {findings.First(f => f.Verdict == Verdict.CannotTell).Basis}.",
            Verdict.Clean => Clean(c),
            _ => ForIntent(verdict, c),
        };
    }

    private static string EitherWay(Finding open, ChangeCase c)
    {
        var what = c.TongueAsked ? "Touch softer and shorter, the air goes on underneath" : "Blow through, so that the new note is there at once";
        return $"{what}. This recording does not settle which it was: {open.Basis}.";
    }

    private static string ForIntent(Verdict worst, ChangeCase c)
    {
        var heard = c.Heard;
        return worst switch
        {
            Verdict.TongueHeard => $"A tongue was heard ({DipFigure.Of(heard)}), where none was asked for: blow through and leave the tongue down.",
            Verdict.Slid => $"The pitch slid for {heard.Glide?.Milliseconds:0} ms where it was to break by itself: take the planned position, let arm and lips change in the same moment.",
            Verdict.Broke => "The pitch jumped where a slide was to be heard: keep the lips as they are and let the arm alone take the pitch along.",
            Verdict.TooShortSlide => $"The slide was over in {heard.Glide?.Milliseconds:0} ms of {c.Change.TimeAvailable.Milliseconds:0}: take all the time there is, so that the whole way is heard.",
            Verdict.NoTouch => "No touch was heard: let the tip of the tongue brush lightly while the air goes on.",
            Verdict.Crept => $"The slide took {heard.Glide?.Milliseconds:0} ms where {c.Change.SmearIfUntongued.Milliseconds:0} ms were planned: wait on the first note, then move fast.",
            Verdict.AirChanged => $"The tone after the touch is {Math.Abs((c.To.Level - c.From.Level)?.Value ?? 0):0.0} dB {((c.To.Level - c.From.Level)?.Value > 0 ? "louder" : "softer")}: the same air on both sides, as if the tongue were not there.",
            _ => $"The tone was to stay steady and its pitch moved by {Drift(c):0} cents: only think the tongue, hold lips and air still.",
        };
    }

    private static double Drift(ChangeCase c) => Math.Max(Math.Abs(c.From.Drift?.Value ?? 0), Math.Abs(c.To.Drift?.Value ?? 0));

    private static double OffAim(ChangeCase c) => ((c.Heard.TongueOffset?.Value ?? 0) - c.TongueAim.Value) * 1000;

    private static string Aim(ChangeCase c) => c.TongueAim.Value == 0 ? "the arm was half way" : "its moment in the arm's movement";

    private static string Clean(ChangeCase c) => c.Change.Kind == ChangeKind.Breath ? "A breath: nothing to judge." : "Clean.";

    private static string NoTongue(IReadOnlyList<Finding> findings, ChangeCase c) =>
        findings.Any(f => f.Verdict is Verdict.Smear or Verdict.SmearPossible)
            ? $"The slide was heard for {c.Heard.AudibleGlide?.Milliseconds:0} ms and no tongue hid it: touch lightly while the arm moves."
            : "No tongue was heard: touch lightly while the arm moves.";

    // A tongue off by less than is called early or late, but by more than is heard as one moment, still leaves a part of the slide open.
    private static bool IsApart(ChangeCase c) => c.Change.Kind == ChangeKind.SoftTongue && c.Heard.TongueOffset is not null
        && Readings.Dip(c.Heard)?.Against(c.Limits.DipHeard.Value) == Standing.Beyond
        && Readings.Tongue(c.Heard, c.TongueAim, c.Limits.TongueTogether) is var (off, _) && off.Against(c.Limits.TongueTogether.Value) == Standing.Beyond;

    private static string Apart(ChangeCase c) => OffAim(c) > 0
        ? $"the tongue touched {OffAim(c):0} ms after {Aim(c)}; touch a little earlier, while the slide is still moving"
        : $"the tongue touched {-OffAim(c):0} ms before {Aim(c)}; wait for the slide a little longer, then both together";

    private static string Smear(ChangeCase c)
    {
        if (AgainstBreak(c) is { } against) return against;
        if (IsApart(c)) return $"The slide was heard for {c.Heard.AudibleGlide?.Milliseconds:0} ms{Why(c)}: {Apart(c)}.";
        var what = $"The slide was heard for {c.Heard.AudibleGlide?.Milliseconds:0} ms{Why(c)}";
        if (c.Plan.Line.FromRecording) return $"{what}: stay on the first note longer, then move fast; if the note does not break by itself, touch in the middle of the move.";
        return c.Change.Kind switch
        {
            ChangeKind.SoftTongue => $"{what}: stay on the first note longer, then move fast and touch in the middle of the move.",
            ChangeKind.NaturalSlur or ChangeKind.ValveSlur => $"{what}, where the note should break by itself: let arm and lips change in the same moment.",
            _ => $"{what}: stay on the first note longer, then move fast, so that the slide has arrived when the tongue begins the new note.",
        };
    }

    // Null where the way from note to note itself is the smear.
    private static string? AgainstBreak(ChangeCase c)
    {
        if (ChangeRules.SlideBeside(c).All(f => f.Verdict != Verdict.Smear)) return null;
        var (before, after) = (c.Heard.SlideBefore, c.Heard.SlideAfter);
        var isBefore = after is null || before?.Weight >= after.Weight;
        var heard = (isBefore ? before : after)!;
        return $"The slide was heard for {heard.Audible.Milliseconds:0} ms {(isBefore ? "before the note broke: stay on the first note longer, then move faster" : "after the note broke: let the slide arrive sooner")}, so that arm and lips change in the same moment.";
    }

    private static string Why(ChangeCase c) => (ArmWords.EarlyBy(c), c.Heard.Arm?.Crept ?? false) switch
    {
        ({ } early, true) => $" because the arm set off {early * 1000:0} ms too early and crept",
        ({ } early, false) => $" because the arm set off {early * 1000:0} ms too early",
        (null, true) => " because the arm crept",
        _ => "",
    };
}
