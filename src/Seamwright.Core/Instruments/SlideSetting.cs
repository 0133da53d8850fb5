using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Instruments;

/// <summary>What makes one note: valves, partial and how far the slide is out.</summary>
public sealed record SlideSetting
{
    /// <summary>The tube that sounds.</summary>
    public required Side Side { get; init; }

    /// <summary>1 is the pedal.</summary>
    public required int Partial { get; init; }

    /// <summary>Slide travel from closed, 0 to the instrument's furthest.</summary>
    public required Centimetres Travel { get; init; }

    /// <summary>Position in open-horn units, 1.0 closed, one more for each semitone on the open horn.</summary>
    public required double Position { get; init; }

    /// <summary>The side's own semitone from closed that the note belongs to, 0 for closed: what players name the setting by.</summary>
    public required int Semitone { get; init; }

    /// <summary>Cents by which the slide corrects partial and tube (positive: it is further in than the side's plain semitone).</summary>
    public required Cents Correction { get; init; }

    /// <summary>Cents that stay wrong because the slide cannot go further in or out (positive: sharp); 0 where it corrects fully.</summary>
    public required Cents Residual { get; init; }

    /// <summary>Short valve names, empty for the open horn.</summary>
    public ImmutableArray<string> Valves => Side.Valves;

    /// <summary>What the sheet prints, for instance <c>F♭2</c>: valve letters, then flat (further out), sharp (further in) or nothing, then the position.</summary>
    public string Label => PositionLabel.Of(this);

    /// <summary>Same side, partial and travel.</summary>
    public bool Equals(SlideSetting? other) =>
        other is not null && Side.Id == other.Side.Id && Partial == other.Partial && Travel == other.Travel;

    public override int GetHashCode() => HashCode.Combine(Side.Id, Partial, Travel);
}

/// <summary>One tube of an instrument: the open horn, or a combination of valves.</summary>
public sealed record Side
{
    /// <summary><c>open</c>, or the valves' ids joined by <c>+</c>.</summary>
    public required string Id { get; init; }

    /// <summary>Ids of the valves that are down, in the instrument's order.</summary>
    public required ImmutableArray<string> Valves { get; init; }

    /// <summary>How the sheet names the valves: <c>F</c>, <c>G♭</c>, <c>D</c>; empty for the open horn.</summary>
    public required string Label { get; init; }

    /// <summary>The first partial with the slide closed.</summary>
    public required Hertz Fundamental { get; init; }

    /// <summary>Acoustic length that the slide adds to: travel for k semitones is L·(2^(k/12) − 1)/2.</summary>
    public required Centimetres EffectiveLength { get; init; }
}
