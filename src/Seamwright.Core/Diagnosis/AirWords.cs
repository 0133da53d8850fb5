namespace Seamwright.Core.Diagnosis;

/// <summary>A comparison of two tones' air in one sentence.</summary>
internal static class AirWords
{
    /// <summary>The sentence.</summary>
    public static string Of(Reading? level, Reading? pitch, Reading? brightness, AirLimits limits)
    {
        var all = new[] { Told(level, limits.Level.Value, Reading.Level, Level), Told(pitch, limits.Pitch.Value, Reading.Pitch, Pitch), Told(brightness, limits.BrightnessPercent, 0, Brightness) }
            .OfType<(Standing Standing, string Words)>().ToList();
        if (all.Count == 0) return "The steady parts are too short to compare the air of the two tones: hold each for four seconds or more.";
        var changed = all.Where(x => x.Standing == Standing.Beyond).Select(x => x.Words).ToList();
        var open = all.Where(x => x.Standing == Standing.Unsettled).Select(x => x.Words).ToList();
        if (changed.Count > 0) return $"With the touches the tone became {Joined(changed)}: blow as if the tongue were not there.";
        if (open.Count > 0) return $"Whether the air changed cannot be told: with the touches the tone was {Joined(open)}; hold both tones longer and steadier.";
        return $"The air stayed the same with the touches: {Joined(all.Select(x => x.Words))}.";
    }

    /// <summary>The same without its sign.</summary>
    public static Reading Absolute(Reading d)
    {
        var least = d.Low <= 0 && d.High >= 0 ? 0 : Math.Min(Math.Abs(d.Low), Math.Abs(d.High));
        return new(Math.Abs(d.Value), least, Math.Max(Math.Abs(d.Low), Math.Abs(d.High)), d.JustNoticed);
    }

    private static (Standing Standing, string Words)? Told(Reading? difference, double limit, double noticed, Func<Reading, string> words) =>
        difference is { } d ? ((Absolute(d) with { JustNoticed = noticed }).Against(limit), words(d)) : null;

    private static string Level(Reading d) => $"{Math.Abs(d.Value):0.0} dB {(d.Value < 0 ? "softer" : "louder")} ({d.Low:+0.0;-0.0;0.0} to {d.High:+0.0;-0.0;0.0})";

    private static string Pitch(Reading d) => $"{Math.Abs(d.Value):0} cents {(d.Value < 0 ? "lower" : "higher")} ({d.Low:+0;−0;0} to {d.High:+0;−0;0})";

    private static string Brightness(Reading d) => $"{Math.Abs(d.Value):0} % {(d.Value < 0 ? "darker" : "brighter")} ({d.Low:+0;−0;0} to {d.High:+0;−0;0})";

    private static string Joined(IEnumerable<string> words)
    {
        var list = words.ToList();
        return list.Count == 1 ? list[0] : $"{string.Join(", ", list.Take(list.Count - 1))} and {list[^1]}";
    }
}
