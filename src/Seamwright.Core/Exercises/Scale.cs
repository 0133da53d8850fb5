using System.Collections.Immutable;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>A scale as intervals above its first note, so that every note is spelled by its letter.</summary>
/// <param name="Name">Small letters and <c>-</c>.</param>
/// <param name="Words">As printed after the tonic: <c>harmonic minor</c>.</param>
/// <param name="Up">First note to the note below the octave.</param>
/// <param name="Down">The same notes on the way down where they differ (melodic minor, blues, chromatic); else as <paramref name="Up"/>.</param>
/// <param name="Fifths">What the key signature adds to the tonic's major one; null for no signature.</param>
/// <param name="Mode">Of the signature.</param>
public sealed record Scale(string Name, string Words, ImmutableArray<Interval> Up, ImmutableArray<Interval> Down, int? Fifths, KeyMode Mode)
{
    public static ImmutableArray<Scale> All { get; } =
    [
        Of("major", "major", "P1 M2 M3 P4 P5 M6 M7", 0),
        Of("natural-minor", "natural minor", "P1 M2 m3 P4 P5 m6 m7", -3, KeyMode.Minor),
        Of("harmonic-minor", "harmonic minor", "P1 M2 m3 P4 P5 m6 M7", -3, KeyMode.Minor),
        Of("melodic-minor", "melodic minor", "P1 M2 m3 P4 P5 M6 M7", -3, KeyMode.Minor) with { Down = Intervals("P1 M2 m3 P4 P5 m6 m7") },
        Of("dorian", "dorian", "P1 M2 m3 P4 P5 M6 m7", -2, KeyMode.Minor),
        Of("phrygian", "phrygian", "P1 m2 m3 P4 P5 m6 m7", -4, KeyMode.Minor),
        Of("lydian", "lydian", "P1 M2 M3 A4 P5 M6 M7", 1),
        Of("mixolydian", "mixolydian", "P1 M2 M3 P4 P5 M6 m7", -1),
        Of("locrian", "locrian", "P1 m2 m3 P4 d5 m6 m7", -5, KeyMode.Minor),
        Of("major-pentatonic", "major pentatonic", "P1 M2 M3 P5 M6", 0),
        Of("minor-pentatonic", "minor pentatonic", "P1 m3 P4 P5 m7", -3, KeyMode.Minor),
        Of("blues", "blues", "P1 m3 P4 A4 P5 m7", -3, KeyMode.Minor) with { Down = Intervals("P1 m3 P4 d5 P5 m7"), Spelling = ScaleSpelling.Plain },
        Of("whole-tone", "whole-tone", "P1 M2 M3 A4 A5 A6", null) with { Spelling = ScaleSpelling.WholeTone },
        Of("chromatic", "chromatic", "P1 A1 M2 A2 M3 P4 A4 P5 A5 M6 A6 M7", null) with { Down = Intervals("P1 m2 M2 m3 M3 P4 d5 P5 m6 M6 m7 M7"), Spelling = ScaleSpelling.Chromatic },
    ];

    /// <summary>One by name, or null.</summary>
    public static Scale? Find(string name) => All.FirstOrDefault(s => s.Name == name);

    /// <summary>How its notes get their letters.</summary>
    public ScaleSpelling Spelling { get; init; } = ScaleSpelling.ByInterval;

    /// <summary>How far above its sound the scale is read (a major ninth in treble clef in B♭): letters and signature are those that look best there.</summary>
    public Interval Reading { get; init; } = Interval.Unison;

    /// <summary>Notes in an octave.</summary>
    public int Count => Up.Length;

    /// <summary>A note of the scale on a tonic.</summary>
    /// <param name="tonic">Note 0.</param>
    /// <param name="index">Notes of the scale above the tonic; negative below.</param>
    /// <param name="down">Whether the music goes down: melodic minor, chromatic and blues scales differ.</param>
    public Pitch NoteAt(Pitch tonic, int index, bool down = false) => Reading == Interval.Unison ? Spellings.NoteAt(this, tonic, index, down) : Spellings.NoteAt(this, tonic + Reading, index, down) - Reading;

    /// <summary>The key signature on a tonic; none written (that which is read as C major's) where the scale has none, null where it would need more than
    /// seven sharps or flats.</summary>
    public KeySignature? SignatureOn(PitchName tonic) => Fifths is not { } add ? new KeySignature(0, Mode).Transposed(-Reading)
        : tonic.Fifths + add is >= -7 and <= 7 ? new KeySignature(tonic.Fifths + add, Mode) : null;

    /// <summary>Place of its key on the line of fifths; the tonic's own where the scale has no signature.</summary>
    public int FifthsOn(PitchName tonic) => tonic.Fifths + (Fifths ?? 0);

    /// <summary>As printed: <c>B♭ harmonic minor</c>.</summary>
    public string NameOn(PitchName tonic) => $"{tonic.ToDisplay()} {Words}";

    internal static Scale Of(string name, string words, string up, int? fifths, KeyMode mode = KeyMode.Major)
    {
        var intervals = Intervals(up);
        return new(name, words, intervals, intervals, fifths, mode);
    }

    private static ImmutableArray<Interval> Intervals(string names) =>
        [.. names.Split(' ').Select(n => Interval.TryParse(n, out var i) ? i : throw new ArgumentException(n))];
}
