using System.Collections.Immutable;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Units;

namespace Seamwright.Core.Calibration;

/// <summary>What a recording says about an instrument and its player.</summary>
public sealed record CalibrationResult
{
    public required Instrument Before { get; init; }

    /// <summary>With everything that is surely different; equal to <see cref="Before"/> where nothing is.</summary>
    public required Instrument After { get; init; }

    /// <summary>What the player is tuned to; null where only lip slurs were heard, so that tuning and offsets share an unknown shift.</summary>
    public required Estimate? Tuning { get; init; }

    /// <summary>One for each partial heard in first position, the lowest first.</summary>
    public required ImmutableArray<PartialEstimate> Partials { get; init; }

    /// <summary>One for each position of the slide that the scale used and whose partial is known, first position left out.</summary>
    public required ImmutableArray<PositionEstimate> Positions { get; init; }

    /// <summary>Every note that was used, in order of time.</summary>
    public required ImmutableArray<UsedNote> Notes { get; init; }

    /// <summary>Notes heard but not recognised as either exercise, or too short.</summary>
    public required int NotesLeftOut { get; init; }

    /// <summary>Longest slide heard on one partial, semitones; null where none was.</summary>
    public double? LongestSlide { get; init; }

    /// <summary>What could not be told, a sentence each.</summary>
    public required ImmutableArray<string> Unknown { get; init; }

    /// <summary>Whether anything is different.</summary>
    public bool Changed => Before != After;
}

/// <summary>A figure with its 90 % interval.</summary>
/// <param name="Cents">Against what the instrument said before.</param>
/// <param name="Bounds">In nine cases of ten the truth lies inside.</param>
/// <param name="Notes">How many notes it rests on.</param>
/// <param name="Written">Whether it differs surely enough to be written.</param>
public sealed record Estimate(Cents Cents, Bounds<Cents> Bounds, int Notes, bool Written);

/// <summary>One partial, slide closed.</summary>
/// <param name="Partial">1 is the pedal.</param>
/// <param name="Before">Its offset in the instrument, against the harmonic.</param>
/// <param name="Heard">Its offset as heard, against the harmonic.</param>
/// <param name="Bounds">90 % interval of <paramref name="Heard"/>.</param>
/// <param name="Notes">How many notes it rests on.</param>
/// <param name="Written">Whether it differs surely enough to be written.</param>
public sealed record PartialEstimate(int Partial, Cents Before, Cents Heard, Bounds<Cents> Bounds, int Notes, bool Written);

/// <summary>Where the slide was, on the average, for one position of the chart.</summary>
/// <param name="Semitone">1 for second position, to 6 for seventh.</param>
/// <param name="Share">Travel as a share of the open horn's effective length: what pitch alone tells.</param>
/// <param name="Bounds">90 % interval of <paramref name="Share"/>.</param>
/// <param name="Before">Travel of the plain semitone on the instrument as it was.</param>
/// <param name="After">Travel heard, on the calibrated instrument.</param>
/// <param name="Notes">How many notes it rests on.</param>
public sealed record PositionEstimate(int Semitone, double Share, Bounds<double> Bounds, Centimetres Before, Centimetres After, int Notes);

/// <summary>One note that was used.</summary>
/// <param name="Index">Place in the take.</param>
/// <param name="Pitch">Its name.</param>
/// <param name="Time">When it begins.</param>
/// <param name="Exercise">Which exercise it was taken for.</param>
/// <param name="Partial">In first position, else null.</param>
/// <param name="Before">Cents beside what the instrument said before.</param>
/// <param name="After">Cents beside what it says after.</param>
/// <param name="IsOutlier">Whether it lies far from the others of its kind.</param>
public sealed record UsedNote(int Index, Pitch Pitch, Seconds Time, ExerciseKind Exercise, int? Partial, Cents Before, Cents After, bool IsOutlier);

public enum ExerciseKind
{
    /// <summary>A lip slur, slide closed: partial after partial.</summary>
    LipSlur,

    /// <summary>A chromatic scale, where the slide is free to be set by ear.</summary>
    Scale,
}
