using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>How the notes of a scale get their letters.</summary>
public enum ScaleSpelling
{
    /// <summary>As its intervals say: in a scale of seven notes every letter once.</summary>
    ByInterval,

    /// <summary>As its intervals say, but C, F, B and E never as B♯, E♯, C♭ and F♭, and no double accidental.</summary>
    Plain,

    /// <summary>Six notes on seven letters: one letter is left out, where no note becomes awkward by it.</summary>
    WholeTone,

    /// <summary>Sharps on the way up, flats on the way down; the tonic stays as it is named.</summary>
    Chromatic,
}

/// <summary>Spells scales.</summary>
/// <remarks>Letters by interval: common practice. Chromatic: sharps ascending, flats descending (Wikipedia, Chromatic scale,
/// Notation). Whole-tone: a diminished third somewhere cannot be avoided (Wikipedia, Whole-tone scale); it comes as late as possible
/// on the way up and so that flats prevail on the way down.</remarks>
internal static class Spellings
{
    private static readonly ImmutableArray<Step> SharpSteps = [Step.C, Step.C, Step.D, Step.D, Step.E, Step.F, Step.F, Step.G, Step.G, Step.A, Step.A, Step.B];
    private static readonly ImmutableArray<Step> FlatSteps = [Step.C, Step.D, Step.D, Step.E, Step.E, Step.F, Step.G, Step.G, Step.A, Step.A, Step.B, Step.B];

    /// <summary>As <see cref="Scale.NoteAt"/>.</summary>
    public static Pitch NoteAt(Scale scale, Pitch tonic, int index, bool down)
    {
        var octaves = (int)Math.Floor(index / (double)scale.Count);
        var i = index - (octaves * scale.Count);
        var first = tonic with { Octave = tonic.Octave + octaves };
        var plain = first + (down ? scale.Down : scale.Up)[i];
        if (i == 0) return first;
        return scale.Spelling switch
        {
            ScaleSpelling.Plain => IsAwkward(plain.Name) ? OneAccidental(plain.Midi, flat: true) : plain,
            ScaleSpelling.WholeTone => WholeTone(first, i, down),
            ScaleSpelling.Chromatic => OneAccidental(plain.Midi, down),
            _ => plain,
        };
    }

    /// <summary>B♯, E♯, C♭, F♭ and whatever has two accidentals.</summary>
    public static bool IsAwkward(PitchName name) =>
        Math.Abs(name.Alter) > 1 || name is { Step: Step.B or Step.E, Alter: 1 } or { Step: Step.C or Step.F, Alter: -1 };

    /// <summary>A natural note, or one with a sharp (up) or a flat (down).</summary>
    private static Pitch OneAccidental(int midi, bool flat)
    {
        var octave = (int)Math.Floor(midi / 12.0);
        var natural = new Pitch((flat ? FlatSteps : SharpSteps)[midi - (12 * octave)], 0, octave - 1);
        return natural with { Alter = midi - natural.Midi };
    }

    private static Pitch WholeTone(Pitch tonic, int i, bool down)
    {
        // The gap is after so many notes; seven would be none at all, which no whole-tone scale allows.
        var gaps = down ? Enumerable.Range(1, 6) : Enumerable.Range(1, 6).Reverse();
        var gap = gaps.FirstOrDefault(g => Enumerable.Range(1, 5).All(n => !IsAwkward(At(tonic, n, g).Name)), 3);
        return At(tonic, i, gap);
    }

    private static Pitch At(Pitch tonic, int i, int gap) => tonic + new Interval(i < gap ? i : i + 1, 2 * i);
}
