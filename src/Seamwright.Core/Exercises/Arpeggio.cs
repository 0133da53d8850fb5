using System.Collections.Immutable;
using Seamwright.Core.Scores;

namespace Seamwright.Core.Exercises;

/// <summary>Broken chords, as scales of three or four notes; an inversion is the same from another of its notes.</summary>
/// <remarks>Signatures (common practice): major and minor of their own key; the dominant seventh of the key it leads to; diminished and
/// half-diminished of the major key whose seventh degree they stand on; augmented as major; the diminished seventh has none, because
/// it belongs to four keys, and is spelled without double accidentals.</remarks>
public static class Arpeggio
{
    /// <summary>Triads, then sevenths.</summary>
    public static ImmutableArray<Scale> All { get; } =
    [
        Scale.Of("major", "major arpeggio", "P1 M3 P5", 0),
        Scale.Of("minor", "minor arpeggio", "P1 m3 P5", -3, KeyMode.Minor),
        Scale.Of("diminished", "diminished arpeggio", "P1 m3 d5", -5),
        Scale.Of("augmented", "augmented arpeggio", "P1 M3 A5", 0),
        Scale.Of("dominant-seventh", "dominant seventh arpeggio", "P1 M3 P5 m7", -1),
        Scale.Of("major-seventh", "major seventh arpeggio", "P1 M3 P5 M7", 0),
        Scale.Of("minor-seventh", "minor seventh arpeggio", "P1 m3 P5 m7", -3, KeyMode.Minor),
        Scale.Of("minor-major-seventh", "minor arpeggio with major seventh", "P1 m3 P5 M7", -3, KeyMode.Minor),
        Scale.Of("half-diminished", "half-diminished seventh arpeggio", "P1 m3 d5 m7", -5),
        Scale.Of("diminished-seventh", "diminished seventh arpeggio", "P1 m3 d5 d7", null) with { Spelling = ScaleSpelling.Plain },
    ];

    /// <summary>One by name, or null.</summary>
    public static Scale? Find(string name) => All.FirstOrDefault(s => s.Name == name);
}
