using Seamwright.Core.Exercises;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Exercises;

/// <summary>Spelling of scales, chords, keys and intervals against a general music-theory library.</summary>
public class TheoryReferenceTests
{
    private static readonly (string Ours, string Theirs)[] ScaleNames =
    [
        ("major", "major"), ("natural-minor", "minor"), ("harmonic-minor", "harmonic minor"), ("melodic-minor", "melodic minor"), ("dorian", "dorian"), ("phrygian", "phrygian"),
        ("lydian", "lydian"), ("mixolydian", "mixolydian"), ("locrian", "locrian"), ("major-pentatonic", "major pentatonic"), ("minor-pentatonic", "minor pentatonic"),
    ];

    private static readonly (string Ours, string Theirs)[] ChordNames =
    [
        ("major", "M"), ("minor", "m"), ("diminished", "dim"), ("augmented", "aug"), ("dominant-seventh", "7"), ("major-seventh", "maj7"), ("minor-seventh", "m7"),
        ("minor-major-seventh", "mMaj7"), ("half-diminished", "m7b5"), ("diminished-seventh", "dim7"),
    ];

    // Every name a key can have.
    private static readonly PitchName[] Names = [.. Enumerable.Range(-8, 21).Select(PitchName.OnFifths)];

    private static readonly Pitch[] Pitches = [.. from octave in new[] { 2, 3 } from step in Enum.GetValues<Step>() from alter in Enumerable.Range(-2, 5) select new Pitch(step, alter, octave)];

    [Fact]
    public void Scales_are_spelled_as_the_library_spells_them_on_every_name()
    {
        var asked = (from scale in ScaleNames from tonic in Names where Scale.Find(scale.Ours)!.SignatureOn(tonic) is not null select (scale, tonic)).ToList();
        var answers = TheoryReference.Ask(new() { Scales = [.. asked.Select(a => new[] { a.tonic.ToString(), a.scale.Theirs })] });
        foreach (var ((scale, tonic), expected) in asked.Zip(answers.Scales)) Assert.Equal(expected, Spelled(Scale.Find(scale.Ours)!, tonic));
        Assert.Equal(11 * 15, asked.Count);
    }

    [Fact]
    public void Scales_with_more_notes_than_letters_sound_as_the_library_says()
    {
        string[] names = ["blues", "whole tone", "chromatic"];
        var asked = (from name in names from tonic in Names select (name, tonic)).ToList();
        var answers = TheoryReference.Ask(new() { Scales = [.. asked.Select(a => new[] { a.tonic.ToString(), a.name })] });
        foreach (var ((name, tonic), expected) in asked.Zip(answers.Scales))
        {
            var scale = Scale.Find(name.Replace(' ', '-'))!;
            foreach (var down in new[] { false, true })
                Assert.Equal(expected.Select(Class), Enumerable.Range(0, scale.Count).Select(i => scale.NoteAt(new Pitch(tonic.Step, tonic.Alter, 4), i, down).Name.PitchClass));
        }
    }

    [Fact]
    public void Arpeggios_are_spelled_as_the_library_spells_them_unless_that_needs_awkward_notes()
    {
        var asked = (from chord in ChordNames from root in Names where Arpeggio.Find(chord.Ours)!.SignatureOn(root) is not null select (chord, root)).ToList();
        var answers = TheoryReference.Ask(new() { Chords = [.. asked.Select(a => new[] { a.root.ToString(), a.chord.Theirs })] });
        var same = 0;
        foreach (var ((chord, root), expected) in asked.Zip(answers.Chords))
        {
            var arpeggio = Arpeggio.Find(chord.Ours)!;
            var ours = Spelled(arpeggio, root);
            Assert.Equal(expected.Select(Class), ours.Select(Class));
            if (arpeggio.Spelling == ScaleSpelling.Plain && expected.Skip(1).Any(IsAwkward)) continue;
            Assert.Equal(expected, ours);
            same++;
        }

        Assert.True(same > 130, $"{same} of {asked.Count}");
    }

    [Fact]
    public void Key_signatures_are_the_librarys()
    {
        var majors = Names.Where(n => new KeyName(n, null).SignatureIn(KeyMode.Major) is not null).ToList();
        var minors = Names.Where(n => new KeyName(n, null).SignatureIn(KeyMode.Minor) is not null).ToList();
        var answers = TheoryReference.Ask(new() { Majors = [.. majors.Select(n => n.ToString())], Minors = [.. minors.Select(n => n.ToString())] });
        Assert.Equal(answers.Majors, majors.Select(n => Scale.Find("major")!.SignatureOn(n)!.Value.Fifths));
        Assert.Equal(answers.Minors, minors.Select(n => Scale.Find("harmonic-minor")!.SignatureOn(n)!.Value.Fifths));
        Assert.Equal((15, 15), (majors.Count, minors.Count));
    }

    [Fact]
    public void Every_interval_from_every_spelled_pitch_leads_where_the_library_says()
    {
        var asked = (from pitch in Pitches from interval in IntervalNames() from sign in new[] { "", "-" } select (pitch, interval, sign)).ToList();
        var answers = TheoryReference.Ask(new() { Moved = [.. asked.Select(a => new[] { a.pitch.ToString(), $"{a.sign}{a.interval[1..]}{a.interval[0]}" })] });
        var same = 0;
        foreach (var ((pitch, interval, sign), expected) in asked.Zip(answers.Moved))
        {
            Assert.True(Interval.TryParse(sign + interval, out var ours));
            var there = pitch + ours;

            // Three accidentals are spelled there and never printed here: the sound is the same on another letter.
            if (!Pitch.TryParse(expected, out var theirs)) Assert.Equal(pitch.Midi + ours.Semitones, there.Midi);
            else Assert.Equal(theirs, there);
            if (theirs == there) same++;
        }

        Assert.True(same > asked.Count * 0.8, $"{same} of {asked.Count}");
    }

    [Fact]
    public void The_interval_between_two_pitches_has_the_librarys_letters_and_semitones()
    {
        var plain = Pitches.Where(p => Math.Abs(p.Alter) < 2).ToList();
        var asked = (from a in plain from b in plain select (a, b)).ToList();
        var answers = TheoryReference.Ask(new() { Between = [.. asked.Select(p => new[] { p.a.ToString(), p.b.ToString() })] });
        var named = 0;
        foreach (var ((a, b), expected) in asked.Zip(answers.Between))
        {
            // Where letters and sound do not go the same way the library counts an octave too many.
            if (expected[0] is not { } steps || expected[1] is not { } semitones || ((b - a).Steps != 0 && Math.Sign((b - a).Steps) != Math.Sign((b - a).Semitones))) continue;
            Assert.Equal((steps, semitones), ((b - a).Steps, (b - a).Semitones));
            named++;
        }

        Assert.True(named > asked.Count * 0.97, $"{named} of {asked.Count}");
    }

    [Fact]
    public void A_melody_moved_to_another_key_has_the_librarys_notes()
    {
        var melodies = Enumerable.Range(-7, 15).Select(f => (Key: new KeySignature(f), Notes: Melody(new KeySignature(f).Tonic))).ToList();
        var asked = (from melody in melodies from name in IntervalNames() where name[0] is 'P' or 'M' or 'm' from note in melody.Notes select (melody, name, note)).ToList();
        var answers = TheoryReference.Ask(new() { Moved = [.. asked.Select(a => new[] { a.note.ToString(), $"{a.name[1..]}{a.name[0]}" })] });
        var whole = 0;
        foreach (var group in asked.Zip(answers.Moved).GroupBy(x => (x.First.melody.Key, x.First.name)))
        {
            var (melody, name, _) = group.First().First;
            Assert.True(Interval.TryParse(name, out var by));
            var moved = Transposer.Move(ScalePart.Of(melody.Key, melody.Notes), by).Value;
            var fifths = melody.Key.Fifths + (7 * by.Semitones) - (12 * by.Steps);
            if (fifths is < -7 or > 7)
            {
                Assert.Equal(melody.Notes.Select(n => n.Midi + by.Semitones), moved.Notes.Select(n => n.Pitch.Midi));
                continue;
            }

            Assert.Equal(fifths, moved.Bars[0].Key.Fifths);
            Assert.Equal(group.Select(g => g.Second), moved.Notes.Select(n => n.Pitch.ToString()));
            whole++;
        }

        Assert.True(whole > 150, $"{whole}");
    }

    // A scale with a raised fourth and a lowered seventh in it.
    private static Pitch[] Melody(PitchName tonic)
    {
        var first = new Pitch(tonic.Step, tonic.Alter, 3);
        return [.. "P1 M2 M3 P4 P5 M6 M7 P8 A4 m7".Split(' ').Select(i => Interval.TryParse(i, out var by) ? first + by : first)];
    }

    private static IEnumerable<string> IntervalNames() =>
        from number in Enumerable.Range(1, 15)
        from quality in (number - 1) % 7 is 0 or 3 or 4 ? "PdA" : "MmdA"
        where number > 1 || quality != 'd'
        select $"{quality}{number}";

    private static string[] Spelled(Scale scale, PitchName tonic) => [.. Enumerable.Range(0, scale.Count).Select(i => scale.NoteAt(new Pitch(tonic.Step, tonic.Alter, 4), i).Name.ToString())];

    private static int Class(string name) => PitchName.TryParse(name, out var n) ? n.PitchClass : ((Class(name[..^1]) + (name[^1] == 'b' ? 11 : 1)) % 12);

    private static bool IsAwkward(string name) => name.Length > 2 || name is "B#" or "E#" or "Cb" or "Fb";
}
