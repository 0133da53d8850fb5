using System.Collections.Immutable;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>The twelve tonics of a scale, each by the name that reads best.</summary>
/// <remarks>Of the names of one sound the one is taken whose signature has at most six sharps or flats, and then: fewest double
/// accidentals, a plain tonic, fewest notes that must be spelled against their interval, fewest accidentals in signature and notes, and
/// flats before sharps (brass reads flats). So major has G♭ and D♭, minor G♯ and E♭ (common practice of the circle of fifths).</remarks>
public static class TwelveKeys
{
    /// <summary>From C up by semitones.</summary>
    public static ImmutableArray<PitchName> For(Scale scale) => [.. Enumerable.Range(0, 12).Select(c => For(scale, c))];

    /// <summary>The twelve keys of an order, which may name a scale or a chord; major where it names neither, or one that is unknown.</summary>
    /// <param name="scale">Name of a <see cref="Scale"/>.</param>
    /// <param name="chord">Name of an <see cref="Arpeggio"/>; counts where it is given.</param>
    public static ImmutableArray<KeyName> Named(string? scale, string? chord) =>
        [.. For((chord is null ? Scale.Find(scale ?? "") : Arpeggio.Find(chord)) ?? Scale.Find("major")!).Select(t => new KeyName(t, null))];

    /// <summary>The name of one.</summary>
    /// <param name="scale">Which scale stands on it.</param>
    /// <param name="pitchClass">0 for C to 11 for B.</param>
    public static PitchName For(Scale scale, int pitchClass) =>
        Names(pitchClass).OrderBy(n => Cost(scale, n)).ThenBy(n => n.Alter).First();

    private static IEnumerable<PitchName> Names(int pitchClass) =>
        Enumerable.Range(-8, 20).Select(PitchName.OnFifths).Where(n => n.PitchClass == pitchClass && Math.Abs(n.Alter) <= 1);

    private static (bool TooMany, int Doubles, bool Tonic, int Against, int Accidentals) Cost(Scale scale, PitchName name)
    {
        var tonic = new Pitch(name.Step, name.Alter, 4);
        var notes = Enumerable.Range(0, scale.Count).SelectMany(i => new[] { scale.NoteAt(tonic, i), scale.NoteAt(tonic, i, down: true) }).ToList();
        var signature = scale.SignatureOn(name);
        var against = scale.Spelling == ScaleSpelling.Plain ? Enumerable.Range(0, scale.Count).Count(i => scale.NoteAt(tonic, i) != tonic + scale.Up[i]) : 0;
        return (signature is not { Fifths: >= -6 and <= 6 }, notes.Count(n => Math.Abs(n.Alter) > 1), Spellings.IsAwkward(name), against,
            notes.Count(n => n.Alter != 0) + Math.Abs(signature?.Fifths ?? 7));
    }
}
