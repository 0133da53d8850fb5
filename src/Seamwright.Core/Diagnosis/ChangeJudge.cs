using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>One change's measurements against what its kind, or the exercise's intent, asks for.</summary>
/// <remarks>A natural or valve slur is not blamed for its own dip: the lips let go for a moment even in the finest legato. A tongued
/// beginning may stop the air. A glissando is meant to be heard.</remarks>
internal static class ChangeJudge
{
    public static ChangeJudgement Judge(ChangeCase c)
    {
        var findings = Findings(c).ToList();
        if (findings.Count == 0) findings.Add(new(Verdict.Clean, Basis(c)));
        findings = [.. findings.OrderByDescending(f => WeightOf(f, c))];
        return new ChangeJudgement
        {
            Index = c.Heard.Index,
            Kind = c.Change.Kind,
            Intent = c.Change.Intent,
            Findings = [.. findings.Select(f => f with { Advice = ChangeAdvice.Of(f.Verdict, findings, c) })],
            Advice = ChangeAdvice.For(findings, c),
            Weight = findings.Sum(f => WeightOf(f, c)),
            Remarks = c.Heard.Found && !c.Heard.Doubts.Contains(Listening.Doubt.Damage) ? [.. ArmWords.Of(c)] : [],
        };
    }

    private static IEnumerable<Finding> Findings(ChangeCase c)
    {
        if (c.Heard.Doubts.Contains(Listening.Doubt.Damage)) return [Finding.Open("", OpenReason.Damage)];
        if (!c.Heard.Found) return [Finding.Open("", c.From.Instead is null && c.To.Instead is null ? OpenReason.NotFound : OpenReason.OtherNote)];
        if (c.Change.Kind == ChangeKind.Breath) return [];

        // Between other notes than were asked for nothing else can be compared.
        if (AddedNotes.Between(c) is { } added) return [added];
        if (c.Plan.Line.FromRecording) return FreeRules.Of(c);
        return c.Change.Intent is { } intent ? IntentRules.Of(intent, c) : ForKind(c);
    }

    private static IEnumerable<Finding> ForKind(ChangeCase c) => c.Change.Kind switch
    {
        ChangeKind.Tongued => ChangeRules.Smear(c),
        ChangeKind.Glissando => [.. ChangeRules.Air(c), .. IntentRules.Broke(c)],
        ChangeKind.SoftTongue => [.. ChangeRules.Air(c), .. ChangeRules.Touch(c), .. ChangeRules.Burst(c), .. ChangeRules.Crack(c), .. ChangeRules.Smear(c), .. ChangeRules.NoTongue(c), .. ChangeRules.Timing(c)],
        _ => [.. ChangeRules.Air(c), .. ChangeRules.TongueBefore(c), .. ChangeRules.Long(c), .. ChangeRules.Burst(c), .. ChangeRules.Crack(c), .. ChangeRules.Smear(c), .. ChangeRules.SlideBeside(c)],
    };

    private static string Basis(ChangeCase c)
    {
        if (c.Change.Kind == ChangeKind.Breath) return "a rest or breath: nothing is judged";
        var figures = new List<string>();
        if (c.Heard.AudibleGlide is { } glide) figures.Add($"glide heard {glide.Milliseconds:0} ms");
        if (c.Heard.Dip is not null) figures.Add($"dip {DipFigure.Of(c.Heard, "0.0")}");
        if (!c.SlideStill && TongueFigure.Of(c.Heard, c.Change, c.Plan, c.From, c.To, []) is { Offset: var off }) figures.Add($"tongue {off.Milliseconds:+0;−0;0} ms");
        return figures.Count == 0 ? "nothing to measure" : string.Join(", ", figures);
    }

    private static double WeightOf(Finding finding, ChangeCase c) => finding.Verdict is Verdict.TongueEarly or Verdict.TongueLate
        ? Math.Min(5, finding.Verdict.Badness() * Math.Abs((c.Heard.TongueOffset?.Value ?? 0) - c.TongueAim.Value) / c.Limits.TongueOff.Value)
        : finding.Sure.Badness();
}
