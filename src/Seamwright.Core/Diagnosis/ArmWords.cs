using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;

namespace Seamwright.Core.Diagnosis;

/// <summary>What the arm did and which settings were probably played, in a reader's words.</summary>
internal static class ArmWords
{
    // Furthest the middle of an even movement may lie off a straight line, as a share of the travel: a minimum-jerk movement stays within 0.03.
    private const double Even = 0.1;
    private const int LeastPath = 6;

    /// <summary>Remarks on a change, a sentence each.</summary>
    public static IEnumerable<string> Of(ChangeCase c)
    {
        if (AgainstPlan(c) is { } settings) yield return settings;
        if (IsGuessedGlissando(c) && c.Heard.Glide is { } glide) yield return $"Taken for a glissando: the slide is heard for {glide.Milliseconds:0} ms.";
        if (c.Heard.Arm is not { } arm || c.Change.Kind == ChangeKind.Breath) yield break;
        if (IsAsked(c) || arm.Crept || EarlyBy(c) is not null) yield return $"The slide went {Math.Abs((arm.To - arm.From).Value):0.0} cm in {arm.Duration.Milliseconds:0} ms, at most {arm.PeakSpeed:0.0} m/s.";
        if (EarlyBy(c) is { } early) yield return $"The arm set off {early * 1000:0} ms before its moment.";
        if (arm.Crept && c.Change.Intent != ChangeIntent.SlowSlide) yield return $"The slide crept: it was under way for {arm.Duration.Milliseconds:0} ms, over 40 % of the first note.";
        if (IsMeantToBeHeard(c) && Evenness(arm) is { } even) yield return even;
    }

    /// <summary>Seconds before its planned moment at which the arm left; null where that is not early.</summary>
    public static double? EarlyBy(ChangeCase c)
    {
        if (c.Heard.Arm is not { Lead: { } lead } arm || c.Change.MoveTime.Value == 0 || c.Change.Intent == ChangeIntent.SlowSlide) return null;
        var early = -c.Change.MoveTime.Value - (lead.Value - (arm.Duration.Value / 2));
        return early > c.Limits.ArmEarly.Value ? early : null;
    }

    /// <summary><c>6th position</c>, or the sheet's name where a valve is down.</summary>
    public static string Name(SlideSetting setting) => setting.Valves.IsEmpty && char.IsAsciiDigit(setting.Label[0])
        ? $"{Ordinal(PositionLabel.Whole(setting))} position"
        : setting.Label;

    private static string? AgainstPlan(ChangeCase c)
    {
        if (c.Plan.Line.FromRecording) return null;
        var what = PlayedSettings.Shown(c.Heard, c.Plan) switch
        {
            true when c.SlidesAsPlanned == true => "The pitch broke where the planned settings stay on one partial",
            false when c.BreaksAsPlanned == true => "The pitch slid on one partial where the planned settings break",
            _ => null,
        };
        if (what is null) return null;
        string? Played(HeardNote n) => n.PlayedSetting is { } s ? $"{n.Pitch.ToDisplay()} was probably played in {Name(s)}" : null;
        var notes = new[] { Played(c.From), Played(c.To) }.OfType<string>().ToList();
        return notes.Count == 0 ? $"{what}: another setting was probably played." : $"{what}: {string.Join(" and ", notes)}.";
    }

    // Nobody knows whether it was meant.
    private static bool IsGuessedGlissando(ChangeCase c) => c.Plan.Line.FromRecording && c.Change.Kind == ChangeKind.Glissando;

    private static bool IsAsked(ChangeCase c) => IsMeantToBeHeard(c) || c.Change.Intent == ChangeIntent.FastSlide;

    private static bool IsMeantToBeHeard(ChangeCase c) => c.Change.Intent == ChangeIntent.SlowSlide || (c.Change.Intent is null && c.Change.Kind == ChangeKind.Glissando);

    // The path between a tenth and nine tenths of the travel against a straight line.
    private static string? Evenness(HeardArm arm)
    {
        var span = (arm.To - arm.From).Value;
        if (Math.Abs(span) < 1) return null;
        var shares = arm.Path.Select(p => p is { } x ? (x - arm.From).Value / span : double.NaN).ToArray();
        int first = Array.FindIndex(shares, s => s >= 0.1), last = Array.FindLastIndex(shares, s => s <= 0.9);
        if (first < 0 || last - first < LeastPath) return null;
        var off = Enumerable.Range(first, last - first + 1).Where(i => !double.IsNaN(shares[i]))
            .Select(i => shares[i] - shares[first] - ((shares[last] - shares[first]) * (i - first) / (last - first))).ToList();
        var worst = off.MaxBy(Math.Abs);
        return Math.Abs(worst) <= Even
            ? "The arm moved evenly."
            : $"The arm did not move evenly: it was {(worst > 0 ? "fast at first, then slow" : "slow at first, then fast")}.";
    }

    private static string Ordinal(int n) => n switch
    {
        1 => "1st",
        2 => "2nd",
        3 => "3rd",
        _ => $"{n}th",
    };
}
