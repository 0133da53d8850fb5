using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.Loudness;

/// <summary>Where a piece is to be brought, and what may be done to it for that.</summary>
public sealed record LevellingSettings
{
    public static readonly LevellingSettings Default = new();

    /// <summary>Loudness of the whole. Default −18 LUFS; range −40 to −5.</summary>
    public Lufs Target { get; init; } = new(-18);

    /// <summary>What no true peak may exceed. Default −1 dBTP (EBU R 128, 2023, for lossy delivery too); range −20 to 0.</summary>
    public TruePeak Ceiling { get; init; } = new(-1);

    /// <summary>How near the target counts as reached. Default 0.1 LU, the tolerance of EBU Tech 3341; range 0.01 to 1.</summary>
    public Decibels Tolerance { get; init; } = new(0.1);

    /// <summary>How far the limiter may press a peak down before the whole is made softer instead. Default 6 dB (proposed: short
    /// peaks such as clicks and attacks bear it unheard); range 0 (no limiter) to 12.</summary>
    public Decibels MostReduction { get; init; } = new(6);

    /// <summary>How long before a peak the limiter begins to yield. Default 5 ms; range 1 to 20.</summary>
    public Seconds LookAhead { get; init; } = new(0.005);

    /// <summary>In what time the limiter gives back 63 % of what it took. Default 100 ms; range 20 to 1,000.</summary>
    public Seconds Release { get; init; } = new(0.1);

    /// <summary>What is out of range; empty where all is well.</summary>
    public ImmutableArray<Problem> Validate() =>
    [
        .. Check("target", Target.Value, -40, -5, "LUFS"),
        .. Check("ceiling", Ceiling.Value, -20, 0, "dBTP"),
        .. Check("tolerance", Tolerance.Value, 0.01, 1, "LU"),
        .. Check("most reduction", MostReduction.Value, 0, 12, "dB"),
        .. Check("look-ahead", LookAhead.Milliseconds, 1, 20, "ms"),
        .. Check("release", Release.Milliseconds, 20, 1000, "ms"),
    ];

    private static IEnumerable<Problem> Check(string what, double value, double least, double most, string unit)
    {
        if (!(value >= least && value <= most))
            yield return new Problem("levelling", $"the {what} is {value:0.###} {unit}.", $"Give {least} to {most} {unit}.", Severity.Error);
    }
}
