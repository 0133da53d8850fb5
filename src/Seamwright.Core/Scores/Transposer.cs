using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores;

/// <summary>Moves music to another key: notes, signatures and chord symbols.</summary>
/// <remarks>Letters move by the interval's letters, so that a scale stays a scale on paper. Where a signature would need more than 7
/// sharps or flats its enharmonic twin is taken and the notes under it are spelled with it. The written transposition of a part
/// (<see cref="Part.Transposition"/>), clefs, ids and everything else stay.</remarks>
public static class Transposer
{
    /// <summary>The shortest way from a key to a named one; a tritone goes down.</summary>
    /// <param name="from">The key the music is in.</param>
    /// <param name="to">The key that is wanted; its mode, if it says one, must be that of the music.</param>
    /// <param name="octaves">Whole octaves on top, −5 to 5; positive upward.</param>
    public static Outcome<Way> ToKey(KeySignature from, KeyName to, int octaves = 0)
    {
        if (to.Mode is { } mode && mode != from.Mode)
        {
            return Outcome<Way>.Failed("key", $"The music is in {from.ToDisplay()}; moving it to {to.Tonic.ToDisplay()} {Word(mode)} would change its mode, which no transposition does.",
                $"Name a {Word(from.Mode)} key. A file that does not say its mode counts as major.");
        }

        if (to.SignatureIn(from.Mode) is null)
        {
            return Outcome<Way>.Failed("key", $"{to.Tonic.ToDisplay()} {Word(from.Mode)} would need more than seven sharps or flats.",
                $"Name the key that sounds the same: {Twin(to, from.Mode)}.");
        }

        return ByOctaves(Nearest(from.Tonic, to.Tonic), octaves);
    }

    /// <summary>An interval and whole octaves on top of it.</summary>
    /// <param name="interval">At most three octaves.</param>
    /// <param name="octaves">−5 to 5.</param>
    public static Outcome<Way> ByOctaves(Interval interval, int octaves) =>
        octaves is < -5 or > 5 ? Outcome<Way>.Failed("octave", $"{octaves} octaves are more than any trombone has.", "Give −5 to 5.") : Outcome<Way>.Of(new Way(interval + (Interval.Octave * octaves)));

    /// <summary>A part, moved.</summary>
    /// <param name="part">At concert pitch.</param>
    /// <param name="by">Letters and semitones.</param>
    /// <returns>The part, or an error that names the first note that would leave the range of pitches (MIDI 0 to 127).</returns>
    public static Outcome<Part> Move(Part part, Interval by)
    {
        foreach (var bar in part.Bars)
        {
            foreach (var note in bar.Events.OfType<Note>())
            {
                if (note.Pitch.Midi + by.Semitones is >= 0 and <= 127) continue;
                return Outcome<Part>.Failed($"{part.Name}, bar {bar.Number}", $"{note.Pitch.ToDisplay()} moved by {by.Semitones} semitones is no pitch any more.", "Choose a smaller interval or another octave.");
            }
        }

        var moved = ImmutableArray.CreateBuilder<Bar>(part.Bars.Length);
        Pitch? tied = null;
        foreach (var bar in part.Bars)
        {
            var spelled = SpelledFor(bar.Key, by);
            moved.Add(bar with
            {
                Key = bar.Key.Transposed(by),
                Chords = [.. bar.Chords.Select(c => c with { Chord = c.Chord?.Transposed(spelled) })],
                Events = [.. bar.Events.Select(e => e is Note note ? Moved(note, spelled) : e)],
            });
        }

        return Outcome<Part>.Of(part with { Bars = moved.MoveToImmutable() });

        // A tied note keeps the spelling it began with, whatever signature it is held into.
        Note Moved(Note note, Interval spelled)
        {
            var pitch = tied is { } held && held.Midi == note.Pitch.Midi + by.Semitones ? held : note.Pitch + spelled;
            tied = note.TieToNext ? pitch : null;
            return note with { Pitch = pitch };
        }
    }

    /// <summary>A whole score, moved: all its parts.</summary>
    public static Outcome<Score> Move(Score score, Interval by)
    {
        var parts = score.Parts.Select(p => Move(p, by)).ToList();
        return parts.TrueForAll(p => p.Succeeded)
            ? Outcome<Score>.Of(score with { Parts = [.. parts.Select(p => p.Value)] })
            : Outcome<Score>.Failed(parts.SelectMany(p => p.Problems));
    }

    private static Interval Nearest(PitchName from, PitchName to)
    {
        var way = new Pitch(to.Step, to.Alter, 4) - new Pitch(from.Step, from.Alter, 4);
        while (way.Semitones >= 6) way += -Interval.Octave;
        while (way.Semitones < -6) way += Interval.Octave;
        return way;
    }

    // Twelve fifths are one letter: what brings a signature back into range moves every letter with it.
    private static Interval SpelledFor(KeySignature key, Interval by)
    {
        var fifths = key.Fifths + (7 * by.Semitones) - (12 * by.Steps);
        var letters = (fifths - key.Transposed(by).Fifths) / 12;
        return by with { Steps = by.Steps + letters };
    }

    private static string Twin(KeyName key, KeyMode mode)
    {
        var fifths = key.Tonic.Fifths - (mode == KeyMode.Minor ? 3 : 0);
        while (fifths > 6) fifths -= 12;
        while (fifths < -6) fifths += 12;
        return new KeySignature(fifths, mode).ToDisplay();
    }

    private static string Word(KeyMode mode) => mode == KeyMode.Minor ? "minor" : "major";
}

/// <summary>How far music is moved.</summary>
/// <param name="Interval">Letters and semitones, positive upward.</param>
public sealed record Way(Interval Interval);
