using Seamwright.Core.Listening;
using Seamwright.Core.Units;

namespace Seamwright.Core.Diagnosis;

/// <summary>A change's figures with what is known of their doubt.</summary>
/// <remarks>Limits on dips and gaps were measured in the ear's 13 ms window, so what that window shows is compared with them, with the interval
/// of that reading; where the room fills dips its interval follows from that of the dip behind it. Where the ear gives no interval, half of what the resolution adds to the
/// ear's window stays in doubt.</remarks>
internal static class Readings
{
    private const double EarWindow = 0.0131;

    // Not 0, which stands for a figure without an interval.
    private const double Least = 1e-6;

    /// <summary>Time more than 20 dB down.</summary>
    public static Reading? Gap(HeardChange heard)
    {
        if (Known(heard.EarGap?.Value) is not { } ear) return null;
        if (heard.EarGapInterval is { } i && Sound(i.Low.Value, i.High.Value)) return Clamped(ear, i.Low.Value, i.High.Value, Reading.Gap);
        if (heard.GapBounds is { } b && heard.Gap is { } gap && Sound(b.Low.Value, b.High.Value))
            return Clamped(ear, ear + b.Low.Value - gap.Value, ear + b.High.Value - gap.Value, Reading.Gap);
        return new(ear, ear, ear > 0 ? ear + Doubt(heard) : ear, 0);
    }

    /// <summary>Depth of the dip in the ear's window; the dip behind it where the window's is not known.</summary>
    public static Reading? Dip(HeardChange heard)
    {
        if (Known((heard.EarDip ?? heard.Dip)?.Value) is not { } ear) return null;
        if (heard.EarDip is not null && heard.EarDipBounds is { } e && Sound(e.Low.Value, e.High.Value)) return Clamped(ear, e.Low.Value, e.High.Value, NoticedLevel(heard));
        if (heard.DipBounds is not { } b || heard.Dip is not { } dip || !Sound(b.Low.Value, b.High.Value)) return Reading.Point(ear);
        var share = dip.Value > ear ? ear / dip.Value : 1; // a window shrinks depth and doubt alike
        return Clamped(ear, ear + (share * (b.Low.Value - dip.Value)), ear + (share * (b.High.Value - dip.Value)), NoticedLevel(heard));
    }

    /// <summary>Time more than 10 dB down.</summary>
    public static Reading? Below10(HeardChange heard)
    {
        if (Known(heard.Below10?.Value) is not { } below) return null;
        return heard.Below10Interval is { } i && Sound(i.Low.Value, i.High.Value)
            ? Clamped(below, i.Low.Value, i.High.Value, Reading.Time)
            : new(below, Math.Max(0, below - Doubt(heard)), below, 0);
    }

    /// <summary>How long the glide is loud enough to be heard.</summary>
    public static Reading? AudibleGlide(HeardChange heard)
    {
        if (Known(heard.AudibleGlide?.Value) is not { } audible) return null;
        if (heard.AudibleGlideBounds is { } b && Sound(b.Low.Value, b.High.Value)) return Clamped(audible, b.Low.Value, b.High.Value, NoticedTime(heard));
        if (heard.GlideBounds is { } g && heard.Glide is { Value: > 0 } glide && Sound(g.Low.Value, g.High.Value))
            return Clamped(audible, audible * g.Low.Value / glide.Value, audible * g.High.Value / glide.Value, Reading.Time);
        return new(audible, Math.Max(0, audible - ((heard.Resolution?.Value ?? 0) / 2)), audible, 0); // no glide is known better than half the window it was heard in
    }

    /// <summary>10–90 % of the pitch's way.</summary>
    public static Reading? Glide(HeardChange heard)
    {
        if (Known(heard.Glide?.Value) is not { } glide) return null;
        if (heard.GlideBounds is { } b && Sound(b.Low.Value, b.High.Value)) return Clamped(glide, b.Low.Value, b.High.Value, Reading.Time);
        var doubt = (heard.Resolution?.Value ?? 0) / 2;
        return new(glide, Math.Max(0, glide - doubt), glide + doubt, 0);
    }

    /// <summary>How far the new note exceeds itself.</summary>
    public static Reading? Overshoot(HeardChange heard)
    {
        if (Known(heard.Overshoot?.Value) is not { } over) return null;
        return heard.OvershootBounds is { } b && Sound(b.Low.Value, b.High.Value) ? new(over, Math.Min(over, b.Low.Value), Math.Max(over, b.High.Value), NoticedLevel(heard)) : Reading.Point(over);
    }

    /// <summary>How far the tongue is off its aim, turned so that the estimate is positive.</summary>
    public static (Reading Off, bool Late)? Tongue(HeardChange heard, Seconds aim, Seconds together)
    {
        if (Known(heard.TongueOffset?.Value) is not { } offset) return null;
        var off = offset - aim.Value;
        var late = off > 0;
        if (heard.TongueOffsetBounds is { } b && Sound(b.Low.Value, b.High.Value))
        {
            var (low, high) = (b.Low.Value - aim.Value, b.High.Value - aim.Value);
            return (late ? Around(off, low, high) : Around(-off, -high, -low), late);
        }

        var far = Math.Abs(off);
        return (far - Doubt(heard) <= together.Value ? new(far, far - Doubt(heard), far, 0) : Reading.Point(far), late);
    }

    /// <summary>A note's distance from its pitch, without sign.</summary>
    public static Reading Cents(Cents cents, Bounds<Cents>? bounds)
    {
        if (bounds is not { } b || !Sound(b.Low.Value, b.High.Value)) return Reading.Point(Math.Abs(cents.Value));
        return cents.Value >= 0
            ? new(cents.Value, Math.Min(cents.Value, b.Low.Value), Math.Max(cents.Value, b.High.Value), Reading.Pitch)
            : new(-cents.Value, Math.Min(-cents.Value, -b.High.Value), Math.Max(-cents.Value, -b.Low.Value), Reading.Pitch);
    }

    /// <summary>How far a held note's pitch drifts, without sign; the limit is what is just noticed, so only a whole interval settles it.</summary>
    public static Reading? Drift(HeardNote note)
    {
        if (Known(note.Drift?.Value) is not { } drift) return null;
        if (note.DriftBounds is not { } b || !Sound(b.Low.Value, b.High.Value)) return Reading.Point(Math.Abs(drift));
        var turned = drift < 0 ? (Low: -b.High.Value, High: -b.Low.Value) : (Low: b.Low.Value, High: b.High.Value);
        return Clamped(Math.Abs(drift), turned.Low, Math.Max(turned.High, -turned.Low), 0);
    }

    // What another sound makes of a level may lie anywhere in the interval: only the whole of it settles anything.
    private static double NoticedTime(HeardChange heard) => heard.Doubts.Contains(Listening.Doubt.OtherSound) ? Least : Reading.Time;

    private static double NoticedLevel(HeardChange heard) => heard.Doubts.Contains(Listening.Doubt.OtherSound) ? 0 : Reading.Level;

    private static Reading Around(double value, double low, double high) => new(value, Math.Min(value, low), Math.Max(value, high), Reading.Time);

    private static Reading Clamped(double value, double low, double high, double noticed) =>
        new(value, Math.Max(0, Math.Min(value, low)), Math.Max(value, high), noticed);

    private static double? Known(double? value) => value is { } v && double.IsFinite(v) ? v : null;

    private static bool Sound(double low, double high) => double.IsFinite(low) && double.IsFinite(high) && low <= high;

    // Beyond the ear's own 13 ms window, half of what the widened window adds stays uncertain.
    private static double Doubt(HeardChange heard) => Math.Max(0, (heard.Resolution?.Value ?? 0) - EarWindow) / 2;
}
