namespace Seamwright.Core.Diagnosis;

/// <summary>Where a measured quantity stands against a limit.</summary>
internal enum Standing
{
    Within, Beyond, Unsettled,
}

/// <summary>A measured quantity with its 90 % interval.</summary>
/// <param name="Value">The estimate.</param>
/// <param name="Low">Lower end of the interval.</param>
/// <param name="High">Upper end.</param>
/// <param name="Slack">How far the interval may reach across a limit before the answer is left open: half of what a listener just
/// notices. Nobody hears on which side of a limit such a figure lies, so the estimate decides; a wider doubt is said as such.</param>
internal readonly record struct Reading(double Value, double Low, double High, double Slack)
{
    /// <summary>Half of the just noticeable difference of level, 1 dB (0.5–1 dB, OpenLearn Hearing 10.3).</summary>
    public const double LevelSlack = 0.5;

    /// <summary>Half of the ear's temporal window, 9 to 13 ms (Plack and Moore, J. Acoust. Soc. Am. 1990).</summary>
    public const double TimeSlack = 0.005;

    /// <summary>Half of the just noticeable gap, 2 to 6 ms (Snell and Hu, ASA 1995).</summary>
    public const double GapSlack = 0.002;

    /// <summary>Half of the just noticeable difference of pitch, 10 cents (Arndt et al., Exp Brain Res 238).</summary>
    public const double PitchSlack = 5;

    /// <summary>A figure whose doubt is not known.</summary>
    public static Reading Point(double value) => new(value, value, value, 0);

    /// <summary>Whether the doubt is known.</summary>
    public bool HasInterval => High > Low;

    /// <summary>Both ends beyond, or both within, or reaching across by no more than <see cref="Slack"/>: the estimate's side. Else unsettled.</summary>
    public Standing Against(double limit)
    {
        if (Value > limit) return limit - Low <= Slack ? Standing.Beyond : Standing.Unsettled;
        return High - limit <= Slack ? Standing.Within : Standing.Unsettled;
    }

    /// <summary><c>140 ms (131 to 149)</c>, or <c>140 ms</c> where the doubt is not known.</summary>
    /// <param name="scale">From this unit to the one that is printed.</param>
    /// <param name="unit">Printed.</param>
    /// <param name="format">Of the numbers.</param>
    public string Figure(double scale, string unit, string format)
    {
        var figure = $"{(Value * scale).ToString(format)} {unit}";
        return HasInterval ? $"{figure} ({(Low * scale).ToString(format)} to {(High * scale).ToString(format)})" : figure;
    }

    /// <summary><c>38 to 71 ms</c>.</summary>
    public string Range(double scale, string unit, string format) =>
        $"{(Low * scale).ToString(format)} to {(High * scale).ToString(format)} {unit}";
}
