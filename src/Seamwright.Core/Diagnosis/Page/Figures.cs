using Seamwright.Core.Listening;
using Seamwright.Core.Units;

namespace Seamwright.Core.Diagnosis.Page;

/// <summary>Measured quantities in words, each with its 90 % interval: <c>62 ms, 55 to 69</c>.</summary>
internal static class Figures
{
    public const string Signed = "+0;−0;0";

    /// <summary>Value, unit and interval; empty where nothing was measured.</summary>
    public static string Words(double? value, (double Low, double High)? bounds, string format, string unit)
    {
        if (value is not { } v || !double.IsFinite(v)) return "";
        var figure = $"{(v + 0.0).ToString(format)} {unit}".TrimEnd();
        return bounds is { } b && double.IsFinite(b.Low) && double.IsFinite(b.High) ? $"{figure}, {b.Low.ToString(format)} to {b.High.ToString(format)}" : figure;
    }

    public static string Ms(Seconds? value, Bounds<Seconds>? bounds, string format = "0", string unit = "ms") =>
        Words(value?.Milliseconds, bounds is { } b ? (b.Low.Milliseconds, b.High.Milliseconds) : null, format, unit);

    public static string Db(Decibels? value, Bounds<Decibels>? bounds, string format = "0.0", string unit = "dB") =>
        Words(value?.Value, bounds is { } b ? (b.Low.Value, b.High.Value) : null, format, unit);

    public static string Dip(HeardChange c, string format = "0.0", string unit = "dB") =>
        DipFigure.DeeperThan(c) is null ? Db(c.Dip, c.DipBounds, format, unit) : DipFigure.Of(c, format, unit);

    public static string OfCents(Cents? value, Bounds<Cents>? bounds, string unit = "cents") =>
        Words(value?.Value, bounds is { } b ? (b.Low.Value, b.High.Value) : null, Signed, unit);

    /// <summary>What is known of one change, a name and a figure each; what was not measured is left out.</summary>
    public static IEnumerable<(string Name, string Figure)> Of(HeardChange c, TongueFigure? tongue)
    {
        (string Name, string Figure)[] all =
        [
            ("glide", Ms(c.Glide, c.GlideBounds)),
            ("heard of it", c.AudibleGlide is null || c.Glide is null ? "" : Ms(c.AudibleGlide, c.AudibleGlideBounds)),
            ("dip", Dip(c)),
            ("dip width", Ms(c.DipWidth, c.DipWidthBounds)),
            ("tongue against arm", Ms(tongue?.Offset, tongue?.Bounds, Signed)),
            ("silence", c.Gap is { Value: > 0 } ? Ms(c.Gap, c.GapBounds) : ""),
            ("new note above itself", c.Overshoot is { Value: >= 0.5 } ? Db(c.Overshoot, c.OvershootBounds) : ""),
            ("caught on the way", Words(c.CaughtPitch?.Value, null, "0", "Hz")),
            ("held for", Words(c.CaughtFor?.Milliseconds, null, "0", "ms")),
            ("partials broke", c.Break is { } b ? Words(b.Semitones, null, "+0.0;−0.0;0.0", "semitones") : ""),
            .. c.Arm is { } arm ? OfArm(arm) : [],
        ];
        return all.Where(f => f.Figure.Length > 0);
    }

    private static IEnumerable<(string Name, string Figure)> OfArm(HeardArm arm)
    {
        yield return ("arm went", $"{Math.Abs((arm.To - arm.From).Value):0.0} cm {((arm.To - arm.From).Value < 0 ? "in" : "out")}");
        yield return ("arm's time", Ms(arm.Duration, arm.DurationBounds));
        yield return ("arm's fastest", Words(arm.PeakSpeed, arm.PeakSpeedBounds is { } b ? (b.Low, b.High) : null, "0.0", "m/s"));
        yield return ("arm against the note", Ms(arm.Lead, null, Signed));
    }
}
