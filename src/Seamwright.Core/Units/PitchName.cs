using System.Diagnostics.CodeAnalysis;

namespace Seamwright.Core.Units;

/// <summary>A spelled pitch without its octave: what names a key or the root of a chord.</summary>
/// <remarks>Equality is by spelling: F-sharp is not G-flat.</remarks>
/// <param name="Step">The letter.</param>
/// <param name="Alter">Semitones added to the letter, −2 to 2.</param>
public readonly record struct PitchName(Step Step, int Alter)
{
    // Letters along the line of fifths, from F.
    private const string Line = "FCGDAEB";

    /// <summary>Place on the line of fifths: 0 for C, 1 for G, −1 for F, 6 for F-sharp.</summary>
    public int Fifths => Line.IndexOf(Step.ToString()[0], StringComparison.Ordinal) - 1 + (7 * Alter);

    /// <summary>0 for C to 11 for B, by sound.</summary>
    public int PitchClass => (((7 * Fifths) % 12) + 12) % 12;

    /// <summary>The name at a place on the line of fifths.</summary>
    /// <param name="fifths">−15 (F double flat) to 19 (B double sharp).</param>
    public static PitchName OnFifths(int fifths)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(fifths, -15);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(fifths, 19);
        var alter = (int)Math.Floor((fifths + 1) / 7.0);
        return new PitchName(Enum.Parse<Step>(Line.AsSpan(fifths + 1 - (7 * alter), 1)), alter);
    }

    /// <summary>Reads <c>Bb</c>, <c>F#</c>, <c>e♭</c> or <c>C</c>.</summary>
    public static bool TryParse([NotNullWhen(true)] string? text, out PitchName name)
    {
        name = default;
        var s = text?.Trim() ?? "";
        if (s.Length == 0 || !Pitch.TryParse(s + "4", out var pitch)) return false;
        name = pitch.Name;
        return true;
    }

    /// <summary>Transposition that keeps the spelling where it can be printed.</summary>
    public static PitchName operator +(PitchName name, Interval interval) => (new Pitch(name.Step, name.Alter, 4) + interval).Name;

    /// <summary><c>Bb</c>, <c>F#</c>, <c>C</c>.</summary>
    public override string ToString() => $"{Step}{new string(Alter < 0 ? 'b' : '#', Math.Abs(Alter))}";

    /// <summary><c>B♭</c>: for readers rather than files, by the <see cref="NoteNaming"/> in force.</summary>
    public string ToDisplay() => NoteNaming.Current.Of(this);
}
