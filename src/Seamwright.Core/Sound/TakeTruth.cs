using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

/// <summary>A sounding line and exactly what is in it.</summary>
/// <param name="Samples">Mono, ±1 at full scale.</param>
/// <param name="Rate">Of the samples.</param>
/// <param name="Truth">Measured on the paths the samples were made from, not on the samples.</param>
public sealed record SoundedTake(ReadOnlyMemory<float> Samples, SampleRate Rate, TakeTruth Truth);

/// <summary>What a rendered take holds. Times are seconds from its first sample; what does not exist is null, never 0.</summary>
/// <remarks>Levels are those of the tone's envelope itself: a window smooths a dip, so a listener that does not model its window
/// reads less. All figures come from the pitch and level paths on a grid of 0.02 ms.</remarks>
public sealed record TakeTruth
{
    /// <summary>One for each note of the plan, same order and index.</summary>
    public required ImmutableArray<NoteTruth> Notes { get; init; }

    /// <summary>One for each change of the plan, same order and index.</summary>
    public required ImmutableArray<ChangeTruth> Changes { get; init; }
}

/// <summary>One note.</summary>
public sealed record NoteTruth
{
    public required int Index { get; init; }

    public required Pitch Pitch { get; init; }

    /// <summary>Joined to the note before: when the pitch is half way, or on one pitch the middle of the dip. Else, where the air
    /// stopped or a rest lies before it, when the level comes within 20 dB of its own. Null where the note has no setting and so is not played.</summary>
    public Seconds? Onset { get; init; }

    /// <summary>As <see cref="Onset"/>, at its end.</summary>
    public Seconds? Offset { get; init; }

    /// <summary>Against the equal-tempered pitch asked for; the mean over the note.</summary>
    public Cents? Cents { get; init; }

    /// <summary>Level in the middle of the note, root mean square against full scale.</summary>
    public Decibels? Level { get; init; }
}

/// <summary>One change.</summary>
public sealed record ChangeTruth
{
    public required int Index { get; init; }

    /// <summary>10–90 % of the pitch's way in cents. Null over a rest, on one pitch, and where a wrong partial was caught.</summary>
    public Seconds? Glide { get; init; }

    /// <summary>When the pitch is half way: of two resonances that sound together the stronger one's. Null as <see cref="Glide"/>.</summary>
    public Seconds? GlideCentre { get; init; }

    /// <summary>Signed way on one partial; null where partial or tube changes.</summary>
    public double? GlideSemitones { get; init; }

    /// <summary>Below the quieter neighbour, positive; null under 0.5 dB and over a rest.</summary>
    public Decibels? Dip { get; init; }

    /// <summary>At half of the dip's depth in dB.</summary>
    public Seconds? DipWidth { get; init; }

    /// <summary>Middle of <see cref="DipWidth"/>; where another dip runs into this one, as a tongue's into a break's, of the time below the
    /// height between the two.</summary>
    public Seconds? DipCentre { get; init; }

    /// <summary>Time more than 10 dB below the quieter neighbour; null where there is none.</summary>
    public Seconds? Below10 { get; init; }

    /// <summary>Time more than 20 dB below the quieter neighbour; null where there is none.</summary>
    public Seconds? Gap { get; init; }

    /// <summary>Most that the new note exceeds its own level within its first 80 ms; null under 0.5 dB.</summary>
    public Decibels? Overshoot { get; init; }

    /// <summary>The wrong pitch that was caught, half way through its time.</summary>
    public Hertz? Caught { get; init; }

    /// <summary>Dip centre minus glide centre.</summary>
    public Seconds? TongueOffset => DipCentre is { } d && GlideCentre is { } g ? d - g : null;
}
