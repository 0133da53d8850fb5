using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores;

/// <summary>What stands on a chord's root.</summary>
public enum ChordKind
{
    Major, Minor, Augmented, Diminished, Dominant, MajorSeventh, MinorSeventh, DiminishedSeventh, AugmentedSeventh, HalfDiminished,
    MinorMajorSeventh, MajorSixth, MinorSixth, DominantNinth, MajorNinth, MinorNinth, DominantEleventh, MajorEleventh, MinorEleventh,
    DominantThirteenth, MajorThirteenth, MinorThirteenth, SuspendedSecond, SuspendedFourth, Power,
}

/// <summary>Names and tones of the chord kinds (common practice; names of MusicXML 4.0, kind-value).</summary>
public static class ChordKinds
{
    private static readonly (ChordKind Kind, string Wire, string Suffix, string Tones)[] All =
    [
        (ChordKind.Major, "major", "", "P1 M3 P5"),
        (ChordKind.Minor, "minor", "m", "P1 m3 P5"),
        (ChordKind.Augmented, "augmented", "+", "P1 M3 A5"),
        (ChordKind.Diminished, "diminished", "dim", "P1 m3 d5"),
        (ChordKind.Dominant, "dominant", "7", "P1 M3 P5 m7"),
        (ChordKind.MajorSeventh, "major-seventh", "maj7", "P1 M3 P5 M7"),
        (ChordKind.MinorSeventh, "minor-seventh", "m7", "P1 m3 P5 m7"),
        (ChordKind.DiminishedSeventh, "diminished-seventh", "dim7", "P1 m3 d5 d7"),
        (ChordKind.AugmentedSeventh, "augmented-seventh", "+7", "P1 M3 A5 m7"),
        (ChordKind.HalfDiminished, "half-diminished", "m7b5", "P1 m3 d5 m7"),
        (ChordKind.MinorMajorSeventh, "major-minor", "m(maj7)", "P1 m3 P5 M7"),
        (ChordKind.MajorSixth, "major-sixth", "6", "P1 M3 P5 M6"),
        (ChordKind.MinorSixth, "minor-sixth", "m6", "P1 m3 P5 M6"),
        (ChordKind.DominantNinth, "dominant-ninth", "9", "P1 M3 P5 m7 M9"),
        (ChordKind.MajorNinth, "major-ninth", "maj9", "P1 M3 P5 M7 M9"),
        (ChordKind.MinorNinth, "minor-ninth", "m9", "P1 m3 P5 m7 M9"),
        (ChordKind.DominantEleventh, "dominant-11th", "11", "P1 P5 m7 M9 P11"),
        (ChordKind.MajorEleventh, "major-11th", "maj11", "P1 P5 M7 M9 P11"),
        (ChordKind.MinorEleventh, "minor-11th", "m11", "P1 m3 P5 m7 M9 P11"),
        (ChordKind.DominantThirteenth, "dominant-13th", "13", "P1 M3 P5 m7 M9 M13"),
        (ChordKind.MajorThirteenth, "major-13th", "maj13", "P1 M3 P5 M7 M9 M13"),
        (ChordKind.MinorThirteenth, "minor-13th", "m13", "P1 m3 P5 m7 M9 M13"),
        (ChordKind.SuspendedSecond, "suspended-second", "sus2", "P1 M2 P5"),
        (ChordKind.SuspendedFourth, "suspended-fourth", "sus4", "P1 P4 P5"),
        (ChordKind.Power, "power", "5", "P1 P5"),
    ];

    private static readonly ImmutableDictionary<ChordKind, ImmutableArray<Interval>> Tones =
        All.ToImmutableDictionary(k => k.Kind, k => k.Tones.Split(' ').Select(t => Interval.TryParse(t, out var i) ? i : throw new FormatException(t)).ToImmutableArray());

    /// <summary>Intervals up from the root, from the lowest; the third of an eleventh chord is left out, as players do.</summary>
    public static ImmutableArray<Interval> TonesOf(ChordKind kind) => Tones[kind];

    /// <summary>What follows the root in a symbol.</summary>
    public static string SuffixOf(ChordKind kind) => Of(kind).Suffix;

    /// <summary>The name in the file format.</summary>
    public static string WireName(this ChordKind kind) => Of(kind).Wire;

    /// <summary>The kind of a name in the file format; null where it names no chord that can be voiced without more being said.</summary>
    public static ChordKind? FromWireName(string? name)
    {
        var found = Array.FindIndex(All, k => k.Wire == name);
        return found < 0 ? null : All[found].Kind;
    }

    private static (ChordKind Kind, string Wire, string Suffix, string Tones) Of(ChordKind kind) => Array.Find(All, k => k.Kind == kind);
}
