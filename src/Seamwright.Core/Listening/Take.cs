using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Listening;

/// <summary>What was heard in one recording of a planned line. Times are seconds from the start of the file.</summary>
/// <remarks>A quantity that could not be measured is null, never 0.</remarks>
public sealed record Take
{
    /// <summary>One for each note of the plan, same order and index.</summary>
    public required ImmutableArray<HeardNote> Notes { get; init; }

    /// <summary>One for each change of the plan, same order and index.</summary>
    public required ImmutableArray<HeardChange> Changes { get; init; }

    /// <summary>The pitch and level trace behind the measurements, in time order.</summary>
    public required Track Track { get; init; }

    /// <summary>The player's tempo against the plan's: 1.1 is ten per cent faster. Null where too little was found.</summary>
    public required double? TempoRatio { get; init; }

    /// <summary>Anything to say about the recording as a whole: clipping, silence, nothing recognised.</summary>
    public ImmutableArray<Problem> Problems { get; init; } = [];
}

/// <summary>Pitch and level at a steady hop.</summary>
public sealed record Track
{
    /// <summary>Time of frame 0's centre.</summary>
    public required Seconds Start { get; init; }

    /// <summary>Distance of two frames' centres, at most 5 ms.</summary>
    public required Seconds Hop { get; init; }

    /// <summary>Frames in time order.</summary>
    public required ImmutableArray<Frame> Frames { get; init; }

    /// <summary>Time of a frame's centre.</summary>
    public Seconds TimeOf(int frame) => Start + (frame * Hop);
}

/// <summary>One moment of sound.</summary>
/// <param name="Pitch">Null where no pitch is heard.</param>
/// <param name="Level">Relative to full scale, in the ear's 13 ms window or two periods where those are longer.</param>
/// <param name="Periodicity">Normalised correlation of neighbouring periods, 0 to 1.</param>
public readonly record struct Frame(Hertz? Pitch, Decibels Level, float Periodicity);

/// <summary>A planned note as it was heard.</summary>
public sealed record HeardNote
{
    public required int Index { get; init; }

    /// <summary>What was asked for.</summary>
    public required Pitch Pitch { get; init; }

    /// <summary>Whether the note was found at all; everything below is null where it was not.</summary>
    public required bool Found { get; init; }

    public Seconds? Onset { get; init; }

    /// <summary>When it lets go or gives way to the next.</summary>
    public Seconds? Offset { get; init; }

    /// <summary>Median pitch of its steady part against the equal-tempered pitch asked for.</summary>
    public Cents? Cents { get; init; }

    /// <summary>Median level of its steady part, relative to full scale.</summary>
    public Decibels? Level { get; init; }
}

/// <summary>A planned change as it was heard.</summary>
public sealed record HeardChange
{
    public required int Index { get; init; }

    /// <summary>Whether both notes were found, so that there is something to measure.</summary>
    public required bool Found { get; init; }

    /// <summary>10–90 % duration of the pitch's way from the first note to the second.</summary>
    public Seconds? Glide { get; init; }

    /// <summary>When the pitch is half way.</summary>
    public Seconds? GlideCentre { get; init; }

    /// <summary>Semitones the pitch travels continuously, signed.</summary>
    public double? GlideSemitones { get; init; }

    /// <summary>How long the glide is loud enough to be heard: less than 6 dB below the quieter neighbour.</summary>
    public Seconds? AudibleGlide { get; init; }

    /// <summary>Depth of the level's dip below the quieter neighbour, positive.</summary>
    public Decibels? Dip { get; init; }

    /// <summary>Width at half of the dip's depth in dB.</summary>
    public Seconds? DipWidth { get; init; }

    public Seconds? DipCentre { get; init; }

    /// <summary>Time more than 10 dB below the quieter neighbour, as the ear's window shows it.</summary>
    public Seconds? Below10 { get; init; }

    /// <summary>The same time if the neighbour were 1 dB softer or louder: a played note's own level is not known better than a
    /// listener hears it (just noticeable 0.5–1 dB, OpenLearn Hearing 10.3).</summary>
    public (Seconds Low, Seconds High)? Below10Interval { get; init; }

    /// <summary>Time more than 20 dB below the quieter neighbour, the window's smearing undone; 0 where the ear's window itself never
    /// falls so far: the air stopped.</summary>
    public Seconds? Gap { get; init; }

    /// <summary>Depth of the dip as the ear's window shows it: what limits measured in that window are compared with.</summary>
    public Decibels? EarDip { get; init; }

    /// <summary>Time more than 20 dB below the quieter neighbour as the ear's window shows it.</summary>
    public Seconds? EarGap { get; init; }

    /// <summary>The same time if the neighbour were 1 dB softer or louder.</summary>
    public (Seconds Low, Seconds High)? EarGapInterval { get; init; }

    /// <summary>How far the new note exceeds its own steady level within its first 80 ms.</summary>
    public Decibels? Overshoot { get; init; }

    /// <summary>Lowest periodicity during the change: below 0.7 a break between partials, above 0.88 a slide on one.</summary>
    public double? LowestPeriodicity { get; init; }

    /// <summary>A pitch held between the two notes that is neither of them, where one was caught on the way.</summary>
    public Hertz? CaughtPitch { get; init; }

    /// <summary>Dip centre minus glide centre.</summary>
    public Seconds? TongueOffset => DipCentre is { } d && GlideCentre is { } g ? d - g : null;

    /// <summary>Shortest span the window could resolve at this pitch: two periods of the lower note, at least 13 ms.</summary>
    public Seconds? Resolution { get; init; }
}
