using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Diagnosis;

/// <summary>What an exercise asks of a change, where that differs from the music.</summary>
internal static class IntentRules
{
    /// <summary>Every finding for an intent.</summary>
    public static IEnumerable<Finding> Of(ChangeIntent intent, ChangeCase c) => intent switch
    {
        ChangeIntent.SlowSlide => [.. ChangeRules.Air(c), .. TongueHeard(c, c.Limits.TongueDip), .. ChangeRules.Crack(c), .. Broke(c), .. TooShort(c)],
        ChangeIntent.FastSlide => [.. ChangeRules.Air(c), .. TongueHeard(c, c.Limits.TongueDip), .. ChangeRules.Burst(c), .. ChangeRules.Crack(c), .. Broke(c), .. Crept(c)],
        ChangeIntent.SoftTongue => [.. ChangeRules.Air(c), .. ChangeRules.Touch(c), .. ChangeRules.Burst(c), .. ChangeRules.Crack(c), .. ChangeRules.Smear(c), .. ChangeRules.NoTongue(c, always: true), .. ChangeRules.Timing(c)],
        ChangeIntent.NaturalSlur => [.. ChangeRules.Air(c), .. TongueOnSlur(c), .. ChangeRules.Long(c), .. ChangeRules.Burst(c), .. ChangeRules.Crack(c), .. Slid(c), .. ChangeRules.Smear(c)],
        ChangeIntent.ImaginedTongue => [.. ChangeRules.Air(c), .. TongueHeard(c, c.Limits.TongueDip), .. ChangeRules.Crack(c), .. Unsteady(c)],
        _ => [.. ChangeRules.Air(c), .. ChangeRules.Touch(c), .. ChangeRules.Burst(c), .. ChangeRules.Crack(c), .. NoTouch(c), .. AirChanged(c)],
    };

    /// <summary>A break where a slide was to be heard; nothing where the plan itself changes partial.</summary>
    public static IEnumerable<Finding> Broke(ChangeCase c)
    {
        if (c.Heard.Broke != true || c.SlidesAsPlanned == false) yield break;
        var jump = c.Heard.Break is { } b ? $"the pitch jumps by {Math.Abs(b.Semitones):0.0} semitones" : "the pitch jumps";
        yield return new(Verdict.Broke, $"{jump} where a slide was asked for");
    }

    /// <summary>A slide where a break was to come; nothing where the plan itself stays on one partial, or parts the notes by a valve: there the
    /// slide may go along, and whether it is heard is the smear's affair.</summary>
    public static IEnumerable<Finding> Slid(ChangeCase c)
    {
        if (c.Heard.Broke != false || c.BreaksAsPlanned == false || c.Change.Kind == Planning.ChangeKind.ValveSlur) yield break;
        var glide = Readings.Glide(c.Heard) is { } g ? $" for {ChangeRules.Milliseconds.Of(g)}" : "";
        yield return new(Verdict.Slid, $"the pitch slides{glide} on one partial where a break was asked for");
    }

    private static IEnumerable<Finding> TongueHeard(ChangeCase c, Decibels limit) => ChangeRules.AirStopped(c)
        ? []
        : ChangeRules.Exceeds(c, Readings.Dip(c.Heard), limit.Value, Verdict.TongueHeard, "no tongue was asked for and the level dips", ChangeRules.DecibelsUnit);

    // By its depth or by its moment: one sure answer settles it.
    private static IEnumerable<Finding> TongueOnSlur(ChangeCase c) =>
        TongueHeard(c, c.Limits.NaturalDip).Concat(ChangeRules.TongueBefore(c)).OrderBy(f => f.Verdict == Verdict.CannotTell).Take(1);

    private static IEnumerable<Finding> NoTouch(ChangeCase c) =>
        ChangeRules.FallsShort(c, Readings.Dip(c.Heard), c.Limits.DipHeard.Value, Verdict.NoTouch, "the level dips", ChangeRules.DecibelsUnit);

    private static IEnumerable<Finding> TooShort(ChangeCase c) => c.Heard.Broke == true
        ? []
        : ChangeRules.FallsShort(c, Readings.Glide(c.Heard), c.Limits.SlowSlideShare * c.Change.TimeAvailable.Value, Verdict.TooShortSlide, "the slide is heard for", ChangeRules.Milliseconds);

    private static IEnumerable<Finding> Crept(ChangeCase c)
    {
        var planned = c.Change.SmearIfUntongued.Value;
        return planned > 0
            ? ChangeRules.Exceeds(c, Readings.Glide(c.Heard), c.Limits.FastSlideRatio * planned, Verdict.Crept, "the glide takes", ChangeRules.Milliseconds)
            : [];
    }

    private static IEnumerable<Finding> Unsteady(ChangeCase c)
    {
        var drifts = new[] { c.From, c.To }.Select(Readings.Drift).OfType<Reading>().ToList();
        if (drifts.Count == 0) return [];
        return ChangeRules.Exceeds(c, drifts.MaxBy(d => d.Value), c.Limits.SteadyPitch.Value, Verdict.Unsteady, "the pitch drifts by", ChangeRules.CentsUnit);
    }

    private static IEnumerable<Finding> AirChanged(ChangeCase c)
    {
        if (c.From.Level is not { } before || c.To.Level is not { } after) return [];
        var change = Reading.Point(Math.Abs((after - before).Value));
        return ChangeRules.Exceeds(c, change, c.Limits.AirChanged.Value, Verdict.AirChanged, "from one touch to the next the level changes by", ChangeRules.DecibelsUnit);
    }
}
