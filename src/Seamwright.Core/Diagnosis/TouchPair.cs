using Seamwright.Core.Listening;
using Seamwright.Core.Units;

namespace Seamwright.Core.Diagnosis;

/// <summary>How the air differs between a tone with an imagined tongue and the same tone with touches.</summary>
/// <remarks>Only steady frames count: with a pitch, periodic, and away from touches, beginning and end.</remarks>
public static class TouchPair
{
    // A touch is over, and the tone steady again, within this on either side of its middle (a soft touch lasts 45 ms and its window
    // 34 ms at B♭1; proposed default).
    private const double AroundTouch = 0.12;

    // Beginnings burst and ends fade.
    private const double AtEnds = 0.15;
    private const float Periodic = 0.8f;
    private const int ShortestStretch = 4;

    /// <summary>Compares the steady air of two tones.</summary>
    /// <param name="imagined">The tone without touches.</param>
    /// <param name="touched">The same tone with touches.</param>
    /// <param name="limits">What counts as unchanged; null for the defaults.</param>
    /// <exception cref="ArgumentException">A limit is out of range, or a tone's brightness does not belong to its track.</exception>
    public static AirComparison Compare(HeardTone imagined, HeardTone touched, AirLimits? limits = null)
    {
        var l = limits ?? AirLimits.Default;
        if (!l.IsValid) throw new ArgumentException("A limit is negative or not a number.", nameof(limits));
        Check(imagined, nameof(imagined));
        Check(touched, nameof(touched));
        var level = Difference(imagined, touched, (t, i) => t.Track.Frames[i].Level.Value, x => x);
        var pitch = Difference(imagined, touched, (t, i) => t.Track.Frames[i].Pitch is { } p ? 1200 * Math.Log2(p.Value) : null, x => x);
        var brightness = Difference(imagined, touched, (t, i) => t.Brightness.IsEmpty ? null : t.Brightness[i] is { } b && b > 0 ? Math.Log(b) : null, x => 100 * (Math.Exp(x) - 1));
        var findings = new[]
        {
            Judged(level, l.Level.Value, Reading.Level, "level", "dB", "0.0"),
            Judged(pitch, l.Pitch.Value, Reading.Pitch, "pitch", "cents", "0"),
            Judged(brightness, l.BrightnessPercent, 0, "brightness", "%", "0"),
        };
        return new AirComparison
        {
            Level = level is { } d ? new AirDifference<Decibels>(new(d.Value), new(new(d.Low), new(d.High))) : null,
            Pitch = pitch is { } p ? new AirDifference<Cents>(new(p.Value), new(new(p.Low), new(p.High))) : null,
            BrightnessPercent = brightness is { } b ? new AirDifference<double>(b.Value, new(b.Low, b.High)) : null,
            Findings = [.. findings.OfType<Finding>()],
            Sentence = AirWords.Of(level, pitch, brightness, l),
        };
    }

    private static void Check(HeardTone tone, string name)
    {
        if (!tone.Brightness.IsEmpty && tone.Brightness.Length != tone.Track.Frames.Length)
            throw new ArgumentException($"There are {tone.Brightness.Length} brightnesses for {tone.Track.Frames.Length} frames.", name);
    }

    private static Reading? Difference(HeardTone imagined, HeardTone touched, Func<HeardTone, int, double?> quantity, Func<double, double> shown)
    {
        if (SteadyMean.Of(Stretches(imagined, quantity)) is not { } a || SteadyMean.Of(Stretches(touched, quantity)) is not { } b) return null;
        var (low, high) = Welch.Interval(a, b);
        return new Reading(shown(b.Mean - a.Mean), shown(low), shown(high), 0);
    }

    // Runs of steady frames; a frame that is not steady, or a touch, ends a run.
    private static List<double[]> Stretches(HeardTone tone, Func<HeardTone, int, double?> quantity)
    {
        var runs = new List<double[]>();
        var run = new List<double>();
        for (var i = 0; i <= tone.Track.Frames.Length; i++)
        {
            if (i < tone.Track.Frames.Length && IsSteady(tone, i) && quantity(tone, i) is { } value && double.IsFinite(value))
            {
                run.Add(value);
                continue;
            }

            if (run.Count >= ShortestStretch) runs.Add([.. run]);
            run.Clear();
        }

        return runs;
    }

    private static bool IsSteady(HeardTone tone, int frame)
    {
        var t = tone.Track.TimeOf(frame).Value;
        return t >= tone.From.Value + AtEnds && t <= tone.To.Value - AtEnds
            && tone.Track.Frames[frame] is { Pitch: not null, Periodicity: >= Periodic }
            && tone.Touches.All(touch => Math.Abs(touch.Value - t) > AroundTouch);
    }

    private static Finding? Judged(Reading? difference, double limit, double noticed, string what, string unit, string format)
    {
        if (difference is not { } d) return null;
        var reading = AirWords.Absolute(d) with { JustNoticed = noticed };
        var basis = $"{what} {d.Range(1, unit, format)}; unchanged within {limit.ToString("0.#")} {unit}";
        return reading.Against(limit) switch
        {
            Standing.Beyond => new(Verdict.AirChanged, basis),
            Standing.Within => new(Verdict.Clean, basis),
            _ => Finding.Open("", OpenReason.Own(basis)),
        };
    }
}

/// <summary>Up to which difference the air counts as unchanged.</summary>
public sealed record AirLimits
{
    public static readonly AirLimits Default = new();

    /// <summary>Default 1 dB (just noticeable level difference 0.5–1 dB, OpenLearn Hearing 10.3).</summary>
    public Decibels Level { get; init; } = new(1);

    /// <summary>Default 10 cents (pitch just heard by musicians, Arndt et al., Exp Brain Res 238).</summary>
    public Cents Pitch { get; init; } = new(10);

    /// <summary>Mean frequency of the tone over its pitch, in per cent. Default 10, proposed.</summary>
    public double BrightnessPercent { get; init; } = 10;

    /// <summary>Whether every limit is a number that is not negative.</summary>
    public bool IsValid => Level.Value >= 0 && Pitch.Value >= 0 && BrightnessPercent >= 0
        && double.IsFinite(Level.Value + Pitch.Value + BrightnessPercent);
}

/// <summary>Touched minus imagined.</summary>
/// <param name="Change">Estimate; positive: louder, higher, brighter with the touches.</param>
/// <param name="Bounds">Its 90 % interval.</param>
public sealed record AirDifference<T>(T Change, Bounds<T> Bounds);

/// <summary>What the touches did to the air between them.</summary>
public sealed record AirComparison
{
    /// <summary>Null where either tone has too few steady frames.</summary>
    public required AirDifference<Decibels>? Level { get; init; }

    /// <inheritdoc cref="Level"/>
    public required AirDifference<Cents>? Pitch { get; init; }

    /// <summary>Null as <see cref="Level"/>, or where the ear gives no brightness.</summary>
    public required AirDifference<double>? BrightnessPercent { get; init; }

    /// <summary>One for each quantity that was measured: <see cref="Verdict.AirChanged"/>, <see cref="Verdict.Clean"/> or <see cref="Verdict.CannotTell"/>.</summary>
    public required System.Collections.Immutable.ImmutableArray<Finding> Findings { get; init; }

    /// <summary>One plain sentence with figures.</summary>
    public required string Sentence { get; init; }
}
