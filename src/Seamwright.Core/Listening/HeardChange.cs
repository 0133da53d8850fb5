using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Listening;

/// <summary>A planned change as it was heard.</summary>
public sealed record HeardChange
{
    public required int Index { get; init; }

    /// <summary>Whether both notes were found, so that there is something to measure.</summary>
    public required bool Found { get; init; }

    /// <summary>10–90 % duration of the pitch's way from the first note to the second.</summary>
    public Seconds? Glide { get; init; }

    public Bounds<Seconds>? GlideBounds { get; init; }

    /// <summary>When the pitch is half way.</summary>
    public Seconds? GlideCentre { get; init; }

    public Bounds<Seconds>? GlideCentreBounds { get; init; }

    /// <summary>Semitones the pitch travels continuously, signed.</summary>
    public double? GlideSemitones { get; init; }

    /// <summary>How long the glide is loud enough to be heard: less than 6 dB below the quieter neighbour.</summary>
    public Seconds? AudibleGlide { get; init; }

    public Bounds<Seconds>? AudibleGlideBounds { get; init; }

    /// <summary>Depth of the level's dip below the quieter neighbour, positive.</summary>
    public Decibels? Dip { get; init; }

    public Bounds<Decibels>? DipBounds { get; init; }

    /// <summary>Width at half of the dip's depth in dB.</summary>
    public Seconds? DipWidth { get; init; }

    public Bounds<Seconds>? DipWidthBounds { get; init; }

    public Seconds? DipCentre { get; init; }

    public Bounds<Seconds>? DipCentreBounds { get; init; }

    /// <summary>Time without a break more than 10 dB below the quieter neighbour about the dip's lowest moment, as the ear's window shows it.</summary>
    public Seconds? Below10 { get; init; }

    /// <summary>The same time if the neighbour were as soft or loud as its own level flickers, and with what is not known of the two moments; where the room
    /// fills dips, if it were 1 dB softer or louder (just noticeable 0.5–1 dB, OpenLearn Hearing 10.3), or the dip as deep as <see cref="DipBounds"/> allow.</summary>
    public (Seconds Low, Seconds High)? Below10Interval { get; init; }

    /// <summary>Time more than 20 dB below the quieter neighbour, the window's smearing undone; 0 where the ear's window itself never
    /// falls so far: the air stopped.</summary>
    public Seconds? Gap { get; init; }

    public Bounds<Seconds>? GapBounds { get; init; }

    /// <summary>Depth of the dip as the ear's window shows it: what limits measured in that window are compared with.</summary>
    public Decibels? EarDip { get; init; }

    /// <summary>What is not known of that: how the quieter neighbour's own level wanders, and the room's noise. Null where the room itself fills dips,
    /// so that <see cref="DipBounds"/> say it.</summary>
    public Bounds<Decibels>? EarDipBounds { get; init; }

    /// <summary>Time more than 20 dB below the quieter neighbour as the ear's window shows it.</summary>
    public Seconds? EarGap { get; init; }

    /// <summary>The same time if the neighbour were as soft or loud as its own level wanders; null where the room itself fills silences, so that
    /// <see cref="GapBounds"/> say it.</summary>
    public (Seconds Low, Seconds High)? EarGapInterval { get; init; }

    /// <summary>How far the new note exceeds its own steady level within 80 ms of its beginning: of where the dip is half way back, or the pitch half way
    /// where that comes later. Until the pitch is the new one's only what exceeds both notes counts.</summary>
    public Decibels? Overshoot { get; init; }

    public Bounds<Decibels>? OvershootBounds { get; init; }

    /// <summary>Lowest periodicity during the change: below 0.7 a break between partials, above 0.88 a slide on one.</summary>
    public double? LowestPeriodicity { get; init; }

    /// <summary>A pitch held between the two notes that is neither of them, where one was caught on the way.</summary>
    public Hertz? CaughtPitch { get; init; }

    /// <summary>How long it is held; null where none is caught.</summary>
    public Seconds? CaughtFor { get; init; }

    /// <summary>Whether that pitch lies an octave or a twelfth over a note whose own sound may have been taken for it.</summary>
    public bool CaughtMayBeNote { get; init; }

    /// <summary>Whether the level falls so far between the notes that another sound in the room is as loud: a pitch caught there would not be
    /// heard.</summary>
    public bool IsCovered { get; init; }

    /// <summary>Dip centre minus glide centre.</summary>
    public Seconds? TongueOffset => DipCentre is { } d && GlideCentre is { } g ? d - g : null;

    public Bounds<Seconds>? TongueOffsetBounds { get; init; }

    /// <summary>Where one partial gave way to another; null where the pitch went on one partial, or that cannot be told.</summary>
    public PartialBreak? Break { get; init; }

    /// <summary>What slides against the pitch before a break; null where nothing does.</summary>
    public HeardSlide? SlideBefore { get; init; }

    /// <summary>What slides back from beyond the new note after a break; null where nothing does.</summary>
    public HeardSlide? SlideAfter { get; init; }

    /// <summary>Whether the pitch broke from one partial to another (true) or slid on one (false); null where it cannot be told.</summary>
    public bool? Broke { get; init; }

    /// <summary>The arm, where the change lies on one partial and the setting is known.</summary>
    public HeardArm? Arm { get; init; }

    /// <summary>What limits the figures here, worst first; empty where nothing does.</summary>
    public ImmutableArray<Doubt> Doubts { get; init; } = [];

    /// <summary>Shortest span the window could resolve at this pitch: two periods of the lower note, at least 13 ms.</summary>
    public Seconds? Resolution { get; init; }
}
