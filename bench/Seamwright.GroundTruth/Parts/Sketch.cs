using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.GroundTruth.Parts;

/// <summary>A line before it becomes a part: phrases of notes, in bars of four quarters.</summary>
/// <param name="Title">Also the file's name.</param>
/// <param name="InstrumentId">Of the catalogue.</param>
/// <param name="Tempo">Quarter notes a minute.</param>
/// <param name="Events">Notes and rests that fill the bars one after the other; none crosses a bar line.</param>
internal sealed record Sketch(string Title, string InstrumentId, double Tempo, ImmutableArray<SketchEvent> Events);

/// <summary>A note or a rest.</summary>
/// <param name="Midi">Null for a rest.</param>
/// <param name="Length">Quarter notes.</param>
/// <param name="SlurredToNext">Joined to the note that follows.</param>
internal readonly record struct SketchEvent(int? Midi, Beats Length, bool SlurredToNext);

/// <summary>Where a line lies.</summary>
/// <param name="Name">For file names.</param>
/// <param name="InstrumentId">What it is played on.</param>
/// <param name="Lowest">MIDI number.</param>
/// <param name="Highest">MIDI number.</param>
internal sealed record Register(string Name, string InstrumentId, int Lowest, int Highest)
{
    /// <summary>B♭1 to F5 in five overlapping registers.</summary>
    public static readonly ImmutableArray<Register> All =
    [
        new("pedal", "bass-independent", 34, 45),
        new("low", "tenor-f", 40, 52),
        new("middle", "tenor-f", 46, 58),
        new("upper", "tenor-f", 53, 65),
        new("top", "tenor-f", 62, 77),
    ];
}
