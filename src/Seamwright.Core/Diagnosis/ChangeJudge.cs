using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Diagnosis;

/// <summary>One change's measurements against what its kind asks for.</summary>
/// <remarks>A natural or valve slur is not blamed for its dip: the lips let go for a moment even in the finest legato. A tongued
/// beginning may stop the air. A glissando is meant to be heard. The limits on dips and gaps were measured in the ear's 13 ms window,
/// so they are compared with what that window shows, not with the dip behind it.</remarks>
internal static class ChangeJudge
{
    public static ChangeJudgement Judge(HeardChange heard, Plan plan, VerdictSettings limits)
    {
        var change = plan.Changes[heard.Index];
        var findings = Findings(heard, change, plan, limits).ToList();
        if (findings.Count == 0) findings.Add(new(Verdict.Clean, Basis(heard, change)));
        return new ChangeJudgement
        {
            Index = heard.Index,
            Kind = change.Kind,
            Findings = [.. findings.OrderByDescending(f => WeightOf(f.Verdict, heard, limits))],
            Advice = ChangeAdvice.For(findings, heard, change),
            Weight = findings.Sum(f => WeightOf(f.Verdict, heard, limits)),
        };
    }

    private static IEnumerable<Finding> Findings(HeardChange heard, NoteChange change, Plan plan, VerdictSettings limits)
    {
        if (!heard.Found) return [new(Verdict.CannotTell, "one of the two notes was not found")];
        return change.Kind switch
        {
            ChangeKind.Breath => [],
            ChangeKind.Tongued => Smear(heard, change, plan, limits),
            ChangeKind.Glissando => Air(heard, limits),
            ChangeKind.SoftTongue => [.. Air(heard, limits), .. Touch(heard, limits), .. Burst(heard, limits), .. Crack(heard), .. Smear(heard, change, plan, limits), .. NoTongue(heard, change, plan, limits), .. Timing(heard, change, limits)],
            _ => [.. Air(heard, limits), .. Long(heard, limits), .. Burst(heard, limits), .. Crack(heard), .. Smear(heard, change, plan, limits)],
        };
    }

    private static IEnumerable<Finding> Air(HeardChange heard, VerdictSettings limits)
    {
        if (heard.EarGap is not { } gap) yield break;
        var basis = $"{gap.Milliseconds:0} ms more than 20 dB down; limit {limits.AirStopped.Milliseconds:0} ms";
        if (gap >= limits.AirStopped) yield return Settled(Verdict.AirStopped, basis, heard.EarGapInterval, limits.AirStopped);
        else if (gap.Value + Doubt(heard) >= limits.AirStopped.Value && gap.Value > 0) yield return Unclear(heard, basis);
    }

    private static IEnumerable<Finding> Touch(HeardChange heard, VerdictSettings limits)
    {
        if (heard.EarGap is { } gap && gap >= limits.AirStopped) yield break;
        if (heard.EarDip is { } dip && dip.Value > limits.HardDip.Value)
            yield return new(Verdict.TooHard, $"dip {dip.Value:0.0} dB; too hard beyond {limits.HardDip.Value:0}");
        else
            foreach (var f in Long(heard, limits)) yield return f;
    }

    private static IEnumerable<Finding> Long(HeardChange heard, VerdictSettings limits)
    {
        if (heard.EarGap is { } gap && gap >= limits.AirStopped) yield break;
        if (heard.Below10 is not { } below) yield break;
        var basis = $"{below.Milliseconds:0} ms more than 10 dB down; too hard beyond {limits.HardBelow10.Milliseconds:0}";
        if (below <= limits.HardBelow10) yield break;
        if (below.Value - Doubt(heard) <= limits.HardBelow10.Value) yield return Unclear(heard, basis);
        else yield return Settled(Verdict.TooHard, basis, heard.Below10Interval, limits.HardBelow10);
    }

    private static IEnumerable<Finding> Burst(HeardChange heard, VerdictSettings limits)
    {
        if (heard.Overshoot is { } over && over.Value > limits.Bump.Value)
            yield return new(Verdict.Bump, $"the new note begins {over.Value:0.0} dB above its own level; limit {limits.Bump.Value:0}");
    }

    private static IEnumerable<Finding> Crack(HeardChange heard)
    {
        if (heard.CaughtPitch is { } caught) yield return new(Verdict.Cracked, $"a pitch of {caught.Value:0} Hz is caught on the way");
    }

    private static IEnumerable<Finding> Smear(HeardChange heard, NoteChange change, Plan plan, VerdictSettings limits)
    {
        if (heard.AudibleGlide is not { } audible || Semitones(heard, change, plan) is not (> 0 and var semitones)) yield break;
        var clear = Math.Max(limits.SmearNeverUnder.Value, limits.SmearClear.Value / semitones);
        var possible = Math.Max(limits.SmearNeverUnder.Value, limits.SmearPossible.Value / semitones);
        var basis = $"the glide is heard for {audible.Milliseconds:0} ms over {semitones:0.0} semitones; possible from {possible * 1000:0}, clear from {clear * 1000:0} ms";
        var doubt = (heard.Resolution?.Value ?? 0) / 2; // no glide is known better than half the window it was heard in
        if (audible.Value > clear) yield return audible.Value - doubt > possible ? new(Verdict.Smear, basis) : Unclear(heard, basis);
        else if (audible.Value > possible) yield return audible.Value - doubt > possible ? new(Verdict.SmearPossible, basis) : Unclear(heard, basis);
    }

    private static IEnumerable<Finding> NoTongue(HeardChange heard, NoteChange change, Plan plan, VerdictSettings limits)
    {
        var slideHeard = Smear(heard, change, plan, limits).Any(f => f.Verdict is Verdict.Smear or Verdict.SmearPossible);
        var dip = heard.Dip?.Value ?? 0;
        if (slideHeard && dip < limits.DipHeard.Value)
            yield return new(Verdict.NoTongue, $"the level dips only {dip:0.0} dB; a touch is heard from {limits.DipHeard.Value:0} dB");
    }

    private static IEnumerable<Finding> Timing(HeardChange heard, NoteChange change, VerdictSettings limits)
    {
        if (change.SlideMotion == SlideMotion.Still || heard.TongueOffset is not { } off) yield break;
        if (heard.Dip is not { } dip || dip.Value < limits.DipHeard.Value) yield break;
        var basis = $"the tongue touches {Math.Abs(off.Milliseconds):0} ms {(off.Value > 0 ? "after" : "before")} the arm is half way; early or late beyond {limits.TongueOff.Milliseconds:0} ms";
        if (Math.Abs(off.Value) <= limits.TongueOff.Value) yield break;
        if (Math.Abs(off.Value) - Doubt(heard) <= limits.TongueTogether.Value) yield return Unclear(heard, basis);
        else yield return new(off.Value > 0 ? Verdict.TongueLate : Verdict.TongueEarly, basis);
    }

    // A verdict that would turn if the note's own level were 1 dB off is not given.
    private static Finding Settled(Verdict verdict, string basis, (Seconds Low, Seconds High)? range, Seconds limit) =>
        range is { } r && r.Low < limit
            ? new(Verdict.CannotTell, $"{basis}; {r.Low.Milliseconds:0} to {r.High.Milliseconds:0} ms if the note's own level is 1 dB off")
            : new(verdict, basis);

    private static Finding Unclear(HeardChange heard, string basis) =>
        new(Verdict.CannotTell, $"{basis}; nothing shorter than {heard.Resolution!.Value.Milliseconds:0} ms can be resolved here");

    // Beyond the ear's own 13 ms window, half of what the widened window adds stays uncertain.
    private static double Doubt(HeardChange heard) => Math.Max(0, (heard.Resolution?.Value ?? 0) - 0.0131) / 2;

    private static double Semitones(HeardChange heard, NoteChange change, Plan plan) =>
        Math.Abs(heard.GlideSemitones ?? plan.Notes[change.ToNote].Note.Pitch.Midi - plan.Notes[change.FromNote].Note.Pitch.Midi);

    private static string Basis(HeardChange heard, NoteChange change)
    {
        if (change.Kind == ChangeKind.Breath) return "a rest or breath: nothing is judged";
        var figures = new List<string>();
        if (heard.AudibleGlide is { } glide) figures.Add($"glide heard {glide.Milliseconds:0} ms");
        if (heard.Dip is { } dip) figures.Add($"dip {dip.Value:0.0} dB");
        if (heard.TongueOffset is { } off && change.SlideMotion != SlideMotion.Still) figures.Add($"tongue {off.Milliseconds:+0;-0;0} ms");
        return figures.Count == 0 ? "nothing to measure" : string.Join(", ", figures);
    }

    private static double WeightOf(Verdict verdict, HeardChange heard, VerdictSettings limits) => verdict switch
    {
        Verdict.AirStopped => 6,
        Verdict.Cracked => 5,
        Verdict.Smear => 4,
        Verdict.TooHard => 3,
        Verdict.NoTongue => 2.5,
        Verdict.Bump => 2.5,
        Verdict.TongueEarly or Verdict.TongueLate => Math.Min(5, 3 * Math.Abs(heard.TongueOffset?.Value ?? 0) / limits.TongueOff.Value),
        Verdict.SmearPossible => 1,
        Verdict.CannotTell => 0.01,
        _ => 0,
    };
}
