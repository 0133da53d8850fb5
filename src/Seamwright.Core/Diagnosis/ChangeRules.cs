using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Diagnosis;

/// <summary>The rules that every kind of change draws from: one quantity against one limit each.</summary>
/// <remarks>A rule yields nothing where there is nothing to blame, its verdict where there is, and <see cref="Verdict.CannotTell"/>
/// with its reason where the figure's 90 % interval lies across the limit.</remarks>
internal static class ChangeRules
{
    /// <summary>The air must go on.</summary>
    /// <remarks>A silence of more than 10 ms is stopped air, a shorter one a hard touch: where only its length is open, it is one of the two.</remarks>
    public static IEnumerable<Finding> Air(ChangeCase c) =>
        Exceeds(c, Readings.Gap(c.Heard), c.Limits.AirStopped.Value, Verdict.AirStopped, "more than 20 dB down for", Milliseconds)
            .Select(f => f.Verdict == Verdict.CannotTell && IsHard(c) ? Finding.Open($"too hard, or the air stopped: {f.What}", f.Why!) with { AtLeast = Verdict.TooHard } : f);

    /// <summary>The touch must be soft: neither deep nor long.</summary>
    public static IEnumerable<Finding> Touch(ChangeCase c)
    {
        if (AirStopped(c) || MayHaveStopped(c)) return [];
        var deep = Exceeds(c, Readings.Dip(c.Heard), c.Limits.HardDip.Value, Verdict.TooHard, "a dip of", DecibelsUnit).ToList();
        var isLong = Long(c).ToList();

        // Deep or long is too hard either way: one sure answer settles it.
        return deep.Concat(isLong).OrderBy(f => f.Verdict == Verdict.CannotTell).Take(1);
    }

    /// <summary>The sound must be back soon.</summary>
    public static IEnumerable<Finding> Long(ChangeCase c) => AirStopped(c) || MayHaveStopped(c)
        ? []
        : Exceeds(c, Readings.Below10(c.Heard), c.Limits.HardBelow10.Value, Verdict.TooHard, "more than 10 dB down for", Milliseconds);

    /// <summary>The new note must not burst.</summary>
    public static IEnumerable<Finding> Burst(ChangeCase c) =>
        Exceeds(c, Readings.Overshoot(c.Heard), c.Limits.Bump.Value, Verdict.Bump, "the new note begins above its own level by", DecibelsUnit);

    /// <summary>No other partial may be caught.</summary>
    public static IEnumerable<Finding> Crack(ChangeCase c)
    {
        if (c.Heard.IsCovered) yield return Finding.Open("whether a wrong pitch is caught on the way", OpenReason.Of(Doubt.OtherSound, c.Heard));
        if (c.Heard.IsCovered || c.Heard.CaughtPitch is not { } caught) yield break;
        var what = Caught(c, caught);

        if (c.Heard.CaughtMayBeNote)
        {
            yield return Finding.Open(what, OpenReason.Overtone);
            yield break;
        }

        // Two notes at once sound like a third.
        yield return c.Heard.Doubts.Where(d => d is Doubt.Echo or Doubt.OtherSound).Select(d => (Doubt?)d).FirstOrDefault() is { } doubt
            ? Finding.Open(what, OpenReason.Of(doubt, c.Heard))
            : new(Verdict.Cracked, what);
    }

    // For instance: a wrong partial is caught on the way: G3 (196 Hz), for 80 ms.
    private static string Caught(ChangeCase c, Hertz caught)
    {
        var name = AddedNotes.Name(c.Plan, caught).ToDisplay();
        return $"a wrong partial is caught on the way: {name} ({caught.Value:0} Hz){(c.Heard.CaughtFor is { } held ? $", for {held.Milliseconds:0} ms" : "")}";
    }

    /// <summary>The slide must not be heard.</summary>
    public static IEnumerable<Finding> Smear(ChangeCase c)
    {
        if (c.Heard.AudibleGlide is null && c.Semitones > 0 && c.Heard.Doubts.Contains(Doubt.OtherSound))
            yield return Finding.Open("how long the slide is heard", OpenReason.Of(Doubt.OtherSound, c.Heard));
        if (Readings.AudibleGlide(c.Heard) is not { } audible || c.Semitones is not (> 0 and var semitones)) yield break;
        var clear = Math.Max(c.Limits.SmearNeverUnder.Value, c.Limits.SmearClear.Value / semitones);
        var possible = Math.Max(c.Limits.SmearNeverUnder.Value, c.Limits.SmearPossible.Value / semitones);
        var limits = $"over {semitones:0.0} semitones; possible from {possible * 1000:0}, clear from {clear * 1000:0} ms";
        var basis = $"the glide is heard for {Milliseconds.Of(audible)} {limits}";
        var open = Finding.Open($"the glide is heard for {Milliseconds.Range(audible)} {limits}", OpenReason.Of(c.Heard, audible));
        var standing = audible.Against(possible);
        if (standing == Standing.Unsettled) yield return open;
        if (standing != Standing.Beyond) yield break;

        // Where the ear gives no interval, what is surely possible is called by its estimate.
        switch ((audible.JustNoticed == 0 ? Reading.Point(audible.Value) : audible).Against(clear))
        {
            case Standing.Beyond:
                yield return new(Verdict.Smear, basis);
                break;
            case Standing.Within:
                yield return new(Verdict.SmearPossible, basis);
                break;
            default:
                yield return new(Verdict.SmearPossible, basis);
                yield return open;
                break;
        }
    }

    /// <summary>An arm that goes against the pitch must have done so by the time the note breaks.</summary>
    /// <remarks>At the planned pace a natural slur sags and comes back by as much as may just be heard: only what is surely heard
    /// (<see cref="VerdictSettings.SmearClear"/>) is a smear.</remarks>
    public static IEnumerable<Finding> SlideBeside(ChangeCase c)
    {
        if (c.SlideStill || c.BreaksAsPlanned != true || Smear(c).Any()) return [];
        (HeardSlide? Slide, string When)[] both = [(c.Heard.SlideBefore, "before"), (c.Heard.SlideAfter, "after")];
        var worstFirst = both.OrderByDescending(s => s.Slide?.Weight ?? 0);
        return worstFirst.SelectMany(s => Beside(s.Slide, s.When)).OrderBy(f => f.Verdict == Verdict.CannotTell).Take(1);

        IEnumerable<Finding> Beside(HeardSlide? slide, string when)
        {
            if (slide is not { } s) return [];
            var reading = new Reading(s.Audible.Value, s.Bounds.Low.Value, s.Bounds.High.Value, Reading.Time);
            var limit = Math.Max(c.Limits.SmearNeverUnder.Value, c.Limits.SmearClear.Value / s.Semitones);
            return Exceeds(c, reading, limit, Verdict.Smear, $"{when} the note breaks the slide is heard over {s.Semitones:0.0} semitones for", Milliseconds);
        }
    }

    /// <summary>A tongue must hide the slide that is heard.</summary>
    /// <param name="c">The change.</param>
    /// <param name="always">Whether the touch is asked for even where no slide is heard.</param>
    public static IEnumerable<Finding> NoTongue(ChangeCase c, bool always = false) =>
        always || Smear(c).Any(f => f.Verdict is Verdict.Smear or Verdict.SmearPossible)
            ? FallsShort(c, Readings.Dip(c.Heard) ?? Reading.Point(0), c.Limits.DipHeard.Value, Verdict.NoTongue, "the level dips", DecibelsUnit)
            : [];

    /// <summary>The tongue must touch where the arm is.</summary>
    public static IEnumerable<Finding> Timing(ChangeCase c)
    {
        if (c.SlideStill || Readings.Tongue(c.Heard, c.TongueAim, c.Limits.TongueTogether) is not var (off, late)) return [];
        if (c.Heard.Dip is not { } dip || dip.Value < c.Limits.TongueDip.Value) return [];

        // What is not heard, or may be no touch at all, has no time: notes swing by so much by themselves, and a slide that passes through a room's own tones.
        switch (Readings.Dip(c.Heard)?.Against(c.Limits.TongueDip.Value))
        {
            case Standing.Within:
                return [];
            case Standing.Unsettled:
                return TimeOpen(c);
        }

        var where = c.TongueAim.Value == 0 ? "the arm is half way" : "its moment in the arm's movement";
        if (off.Against(c.Limits.TongueOff.Value) == Standing.Unsettled && off.Low < 0)
        {
            var (early, behind) = late ? (-off.Low, off.High) : (off.High, -off.Low);
            return [Finding.Open($"the tongue touches from {early * 1000:0} ms before to {behind * 1000:0} ms after {where}, limit {Milliseconds.Of(c.Limits.TongueOff.Value)}", OpenReason.Of(c.Heard, off))];
        }

        var verdict = late ? Verdict.TongueLate : Verdict.TongueEarly;
        return Exceeds(c, off, c.Limits.TongueOff.Value, verdict, $"the tongue touches {(late ? "after" : "before")} {where} by", Milliseconds);
    }

    /// <summary>A change that breaks by itself needs no tongue.</summary>
    /// <remarks>The break's own dip lies about the break. A tongue takes the sound away first, and the new note speaks when it lets go: its dip
    /// comes before the break. From 20 ms on the order of two events is heard (Watson, Semin. Hear. 25 (2004)). A touch at the very moment
    /// of the break has no sign of its own while it is no deeper than breaks are.</remarks>
    public static IEnumerable<Finding> TongueBefore(ChangeCase c)
    {
        if (AirStopped(c) || c.BreaksAsPlanned != true || c.Heard is { Broke: false } or { CaughtPitch: not null }) return [];
        if (c.Heard.Doubts.Any(d => d is Doubt.Echo or Doubt.OtherSound)) return [];
        if (Readings.Dip(c.Heard) is not { } dip || dip.Against(c.Limits.TongueDip.Value) != Standing.Beyond) return [];
        if (Readings.Tongue(c.Heard, Seconds.Zero, c.Limits.TongueTogether) is not (var before, false) || before.Value <= c.Limits.TongueTogether.Value) return [];

        // Both lie within what one hears as one moment: only the whole interval settles it.
        return Exceeds(c, before with { JustNoticed = 0 }, c.Limits.TongueTogether.Value, Verdict.TongueHeard, $"no tongue was asked for and the level dips by {DecibelsUnit.Of(dip)} before the partial breaks, by", Milliseconds);
    }

    // A touch of the player's may be hidden by another sound, whose beating looks like one.
    private static IEnumerable<Finding> TimeOpen(ChangeCase c) => c.Heard.Doubts.Contains(Doubt.OtherSound)
        ? [Finding.Open("when the tongue touches", OpenReason.Of(Doubt.OtherSound, c.Heard))]
        : [];

    /// <summary>A verdict where a quantity lies beyond a limit.</summary>
    public static IEnumerable<Finding> Exceeds(ChangeCase c, Reading? reading, double limit, Verdict verdict, string what, PrintedUnit unit)
    {
        if (reading is not { } r) yield break;
        switch (r.Against(limit))
        {
            case Standing.Beyond:
                yield return new(verdict, $"{what} {unit.Of(r)}; limit {unit.Of(limit)}");
                break;
            case Standing.Unsettled:
                yield return Finding.Open($"{what} {unit.Range(r)}, limit {unit.Of(limit)}", OpenReason.Of(c.Heard, r));
                break;
        }
    }

    /// <summary>A verdict where a quantity does not reach a limit.</summary>
    public static IEnumerable<Finding> FallsShort(ChangeCase c, Reading? reading, double limit, Verdict verdict, string what, PrintedUnit unit)
    {
        if (reading is not { } r) yield break;
        switch (r.Against(limit))
        {
            case Standing.Within:
                yield return new(verdict, $"{what} {unit.Of(r)}; at least {unit.Of(limit)} was asked for");
                break;
            case Standing.Unsettled:
                yield return Finding.Open($"{what} {unit.Range(r)}, at least {unit.Of(limit)} was asked for", OpenReason.Of(c.Heard, r));
                break;
        }
    }

    /// <summary>Whether the air surely stopped: then nothing more is said about the touch.</summary>
    public static bool AirStopped(ChangeCase c) => Readings.Gap(c.Heard) is { } gap && gap.Against(c.Limits.AirStopped.Value) == Standing.Beyond;

    // Nobody knows then whether the touch was only hard: the air's doubt alone is told.
    private static bool MayHaveStopped(ChangeCase c) =>
        Readings.Gap(c.Heard) is { } gap && gap.Against(c.Limits.AirStopped.Value) == Standing.Unsettled;

    // Only where a hard touch or a long one is a fault of its own.
    private static bool IsHard(ChangeCase c)
    {
        if (c.Change.Kind == ChangeKind.Glissando || c.Change.Intent is ChangeIntent.SlowSlide or ChangeIntent.FastSlide or ChangeIntent.ImaginedTongue) return false;
        return Readings.Below10(c.Heard)?.Against(c.Limits.HardBelow10.Value) == Standing.Beyond
            || (c.TongueAsked && Readings.Dip(c.Heard)?.Against(c.Limits.HardDip.Value) == Standing.Beyond);
    }

    /// <summary>Seconds printed as ms.</summary>
    public static readonly PrintedUnit Milliseconds = new(1000, "ms", "0");

    /// <summary>Decibels to 0.1.</summary>
    public static readonly PrintedUnit DecibelsUnit = new(1, "dB", "0.0");

    /// <summary>Cents.</summary>
    public static readonly PrintedUnit CentsUnit = new(1, "cents", "0");
}

/// <summary>How a quantity is printed.</summary>
internal readonly record struct PrintedUnit(double Scale, string Name, string Format)
{
    public string Of(double value) => $"{(value * Scale).ToString("0.#")} {Name}";

    public string Of(Reading reading) => reading.Figure(Scale, Name, Format);

    public string Range(Reading reading) => reading.HasInterval ? reading.Range(Scale, Name, Format) : Of(reading);
}
