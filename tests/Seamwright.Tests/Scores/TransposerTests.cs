using CsCheck;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;
using static Seamwright.Tests.Scores.Files;

namespace Seamwright.Tests.Scores;

public class TransposerTests
{
    [Theory]
    [InlineData(-2, KeyMode.Major, "Eb", 0, 3, 5)]
    [InlineData(-2, KeyMode.Major, "F", 0, -3, -5)]
    [InlineData(-2, KeyMode.Major, "E", 0, -4, -6)]
    [InlineData(0, KeyMode.Major, "G", 0, -3, -5)]
    [InlineData(0, KeyMode.Minor, "b minor", 0, 1, 2)]
    [InlineData(0, KeyMode.Major, "C", 1, 7, 12)]
    [InlineData(0, KeyMode.Major, "B", -1, -8, -13)]
    public void A_named_key_is_reached_the_shortest_way(int fifths, KeyMode mode, string key, int octaves, int steps, int semitones)
    {
        Assert.True(KeyName.TryParse(key, out var name));
        Assert.Equal(new Interval(steps, semitones), Transposer.ToKey(new KeySignature(fifths, mode), name, octaves).Value.Interval);
    }

    [Theory]
    [InlineData("Am", "minor would change")]
    [InlineData("G#", "A♭ major")]
    [InlineData("Fb", "E major")]
    public void A_key_that_cannot_be_is_told_with_one_that_can(string key, string part)
    {
        Assert.True(KeyName.TryParse(key, out var name));
        Assert.Contains(part, Assert.Single(Transposer.ToKey(new KeySignature(0), name).Problems).ToString());
    }

    [Theory]
    [InlineData("H")]
    [InlineData("Bb4")]
    [InlineData("")]
    [InlineData("C dorian")]
    [InlineData("Bbbb")]
    public void What_names_no_key_is_none(string text) => Assert.False(KeyName.TryParse(text, out _));

    [Fact]
    public void Scale_accidentals_chords_and_signature_move_together()
    {
        var part = ReadPart("<attributes><divisions>12</divisions><key><fifths>-2</fifths></key></attributes><harmony><root><root-step>F</root-step></root><kind>dominant</kind></harmony>"
            + N("Bb2", 12) + N("Eb3", 12) + N("E3", 12) + N("Gb3", 12));
        var moved = Transposer.Move(part, new Interval(1, 2)).Value;
        Assert.Equal("C3 F3 F#3 Ab3", string.Join(' ', moved.Notes.Select(n => n.Pitch)));
        Assert.Equal(new KeySignature(0), moved.Bars[0].Key);
        Assert.Equal("G7", moved.Bars[0].Chords.Single().Chord!.ToString());
    }

    [Fact]
    public void A_signature_that_cannot_be_printed_takes_its_twin_and_the_notes_follow()
    {
        var part = ReadPart("<attributes><divisions>12</divisions><key><fifths>7</fifths></key></attributes>" + N("C#3", 24) + N("E#3", 24));
        var moved = Transposer.Move(part, new Interval(1, 2)).Value;
        Assert.Equal(-3, moved.Bars[0].Key.Fifths);
        Assert.Equal("Eb3 G3", string.Join(' ', moved.Notes.Select(n => n.Pitch)));
    }

    [Fact]
    public void A_tied_note_keeps_its_spelling_under_a_signature_that_would_spell_it_otherwise()
    {
        var tied = N("C#3", 48).Replace("<voice>", "<tie type=\"start\"/><voice>", StringComparison.Ordinal);
        var part = ReadPart("<attributes><divisions>12</divisions><key><fifths>7</fifths></key></attributes>" + tied, "<attributes><key><fifths>0</fifths></key></attributes>" + N("C#3", 24) + N("C#3", 24));
        Assert.Equal("Eb3 Eb3 D#3", string.Join(' ', Transposer.Move(part, new Interval(1, 2)).Value.Notes.Select(n => n.Pitch)));
    }

    [Fact]
    public void A_note_that_would_be_no_pitch_any_more_is_told() =>
        Assert.Contains("bar 1", Assert.Single(Transposer.Move(ReadPart(N("C3", 48)), new Interval(-35, -60)).Problems).Where);

    [Fact]
    public void Every_sound_moves_by_the_same_semitones_and_ties_stay_tied() => Gen.Select(Gen.Int[0, 100_000], Gen.Int[-7, 7], Gen.Int[-7, 7]).Sample((seed, from, to) =>
    {
        var score = InventedScores.From(seed);
        var by = Transposer.ToKey(new KeySignature(from), new KeyName(new KeySignature(to).Tonic, null)).Value.Interval;
        var moved = Transposer.Move(score, by);
        Assert.True(moved.Succeeded);
        foreach (var (a, b) in score.Parts.Zip(moved.Value.Parts))
        {
            Assert.Equal(a.Notes.Select(n => n.Pitch.Midi + by.Semitones), b.Notes.Select(n => n.Pitch.Midi));
            Assert.All(b.Bars, bar => Assert.InRange(bar.Key.Fifths, -7, 7));
            var notes = b.Notes.Where(n => n.Grace == Grace.None).ToList();
            Assert.All(notes.Zip(notes.Skip(1)).Where(p => p.First.TieToNext), p => Assert.Equal(p.First.Pitch, p.Second.Pitch));
        }
    }, iter: 200);

    [Fact]
    public void In_a_plain_scale_every_note_stays_inside_the_new_signature() => Gen.Select(Gen.Int[-7, 7], Gen.Int[-7, 7]).Sample((from, to) =>
    {
        var key = new KeySignature(from);
        var by = Transposer.ToKey(key, new KeyName(new KeySignature(to).Tonic, null)).Value.Interval;
        foreach (var step in Enum.GetValues<Step>())
        {
            var pitch = new Pitch(step, key.AlterOf(step), 3) + by;
            Assert.Equal(new KeySignature(to).AlterOf(pitch.Step), pitch.Alter);
        }
    });

    [Theory]
    [InlineData("M2", 1, 2)]
    [InlineData("-m3", -2, -3)]
    [InlineData("P8", 7, 12)]
    [InlineData("A4", 3, 6)]
    [InlineData("d5", 4, 6)]
    [InlineData("M10", 9, 16)]
    public void An_interval_is_read(string text, int steps, int semitones)
    {
        Assert.True(Interval.TryParse(text, out var interval));
        Assert.Equal(new Interval(steps, semitones), interval);
    }

    [Theory]
    [InlineData("P3")]
    [InlineData("M5")]
    [InlineData("M0")]
    [InlineData("3")]
    [InlineData("x")]
    public void What_is_no_interval_is_refused(string text) => Assert.False(Interval.TryParse(text, out _));

    [Theory]
    [InlineData(-3, KeyMode.Major, "E♭ major")]
    [InlineData(-3, KeyMode.Minor, "C minor")]
    [InlineData(7, KeyMode.Minor, "A♯ minor")]
    [InlineData(-7, KeyMode.Major, "C♭ major")]
    public void A_signature_names_its_key(int fifths, KeyMode mode, string name) => Assert.Equal(name, new KeySignature(fifths, mode).ToDisplay());
}
