using CsCheck;
using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Exercises;

public class SpellingTests
{
    private static readonly Gen<Scale> Scales = Gen.Int[0, Scale.All.Length + Arpeggio.All.Length - 1].Select(i => Scale.All.Concat(Arpeggio.All).ElementAt(i));

    // Common practice of the circle of fifths: at most six accidentals, flats where six of either would do.
    [Theory]
    [InlineData("major", "C Db D Eb E F Gb G Ab A Bb B")]
    [InlineData("harmonic-minor", "C C# D Eb E F F# G G# A Bb B")]
    [InlineData("dorian", "C C# D Eb E F F# G Ab A Bb B")]
    [InlineData("chromatic", "C Db D Eb E F Gb G Ab A Bb B")]
    public void Twelve_keys_have_the_names_that_read_best(string scale, string expected) => Assert.Equal(expected, string.Join(' ', TwelveKeys.For(Scale.Find(scale)!)));

    [Theory]
    [InlineData("chromatic", "Bb3", "Bb B C C# D D# E F F# G G# A Bb", "Bb A Ab G Gb F E Eb D Db C B Bb")]
    [InlineData("whole-tone", "Bb3", "Bb C D E F# G# Bb", "Bb Ab Gb E D C Bb")]
    [InlineData("whole-tone", "B3", "B C# D# F G A B", "B A G F Eb Db B")]
    [InlineData("blues", "Bb3", "Bb Db Eb E F Ab Bb", "Bb Ab F E Eb Db Bb")]
    [InlineData("blues", "C4", "C Eb F F# G Bb C", "C Bb G Gb F Eb C")]
    [InlineData("melodic-minor", "C4", "C D Eb F G A B C", "C Bb Ab G F Eb D C")]
    public void Up_and_down_are_spelled_as_players_read_them(string name, string tonic, string up, string down)
    {
        var scale = Scale.Find(name)!;
        Assert.Equal(up, string.Join(' ', Enumerable.Range(0, scale.Count + 1).Select(i => scale.NoteAt(Pitch.Parse(tonic), i).Name)));
        Assert.Equal(down, string.Join(' ', Enumerable.Range(0, scale.Count + 1).Reverse().Select(i => scale.NoteAt(Pitch.Parse(tonic), i, down: true).Name)));
    }

    [Fact]
    public void A_scale_of_seven_notes_has_every_letter_once_in_all_twelve_keys()
    {
        foreach (var scale in Scale.All.Where(s => s.Count == 7))
        {
            foreach (var tonic in TwelveKeys.For(scale))
            {
                foreach (var down in new[] { false, true })
                    Assert.Equal(7, Enumerable.Range(0, 7).Select(i => scale.NoteAt(new Pitch(tonic.Step, tonic.Alter, 3), i, down).Step).Distinct().Count());
                Assert.InRange(scale.SignatureOn(tonic)!.Value.Fifths, -6, 6);
            }
        }
    }

    [Fact]
    public void Twelve_keys_need_a_double_sharp_only_for_a_raised_seventh_over_five_sharps_or_an_augmented_fifth()
    {
        var doubles = from scale in Scale.All.Concat(Arpeggio.All)
                      from tonic in TwelveKeys.For(scale)
                      from i in Enumerable.Range(0, scale.Count)
                      where Math.Abs(scale.NoteAt(new Pitch(tonic.Step, tonic.Alter, 3), i).Alter) > 1
                      select scale.NameOn(tonic);
        Assert.Equal(["B augmented arpeggio", "G♯ harmonic minor", "G♯ melodic minor", "G♯ minor arpeggio with major seventh"], doubles.Distinct().Order(StringComparer.Ordinal));
    }

    [Fact]
    public void Scales_without_seven_letters_never_write_a_plain_note_awkwardly()
    {
        foreach (var scale in Scale.All.Concat(Arpeggio.All).Where(s => s.Spelling != ScaleSpelling.ByInterval))
        {
            foreach (var tonic in TwelveKeys.For(scale))
            {
                foreach (var down in new[] { false, true })
                    Assert.DoesNotContain(Enumerable.Range(0, scale.Count).Select(i => scale.NoteAt(new Pitch(tonic.Step, tonic.Alter, 3), i, down).Name), Spellings.IsAwkward);
            }
        }
    }

    [Fact]
    public void A_mode_has_the_signature_that_gives_its_notes()
    {
        string[] modes = ["major", "natural-minor", "dorian", "phrygian", "lydian", "mixolydian", "locrian"];
        foreach (var scale in modes.Select(m => Scale.Find(m)!))
        {
            foreach (var tonic in TwelveKeys.For(scale))
            {
                var signature = scale.SignatureOn(tonic)!.Value;
                for (var i = 0; i < 7; i++)
                {
                    var note = scale.NoteAt(new Pitch(tonic.Step, tonic.Alter, 3), i);
                    Assert.Equal(signature.AlterOf(note.Step), note.Alter);
                }
            }
        }
    }

    [Fact]
    public void Notes_rise_from_one_to_the_next_through_all_octaves() => Gen.Select(Scales, Gen.Int[0, 11], Gen.Int[-20, 20], Gen.Bool).Sample((scale, key, index, down) =>
    {
        var tonic = TwelveKeys.For(scale, key);
        var first = new Pitch(tonic.Step, tonic.Alter, 4);
        Assert.InRange(scale.NoteAt(first, index + 1, down).Midi - scale.NoteAt(first, index, down).Midi, 1, 6);
        Assert.Equal(12, scale.NoteAt(first, index + scale.Count, down).Midi - scale.NoteAt(first, index, down).Midi);
    });

    [Fact]
    public void A_melody_moved_up_and_down_again_is_the_same_melody() => Gen.Select(Gen.Int[-7, 7], Gen.Int[0, 7], Gen.Int[-1, 1]).Sample((fifths, steps, off) =>
    {
        var by = new Interval(steps, new Pitch((Step)(steps % 7), 0, steps / 7).Midi - 12 + off);
        var there = fifths + (7 * by.Semitones) - (12 * by.Steps);
        if (there is < -7 or > 7) return;
        var part = ScalePart.Of(new KeySignature(fifths), Enumerable.Range(0, 8).Select(i => Scale.Find("major")!.NoteAt(new Pitch(new KeySignature(fifths).Tonic.Step, new KeySignature(fifths).Tonic.Alter, 3), i)));
        var back = Transposer.Move(Transposer.Move(part, by).Value, -by).Value;
        Assert.Equal(part.Notes.Select(n => n.Pitch), back.Notes.Select(n => n.Pitch));
        Assert.Equal(part.Bars[0].Key, back.Bars[0].Key);
    });

    [Theory]
    [InlineData("E#", "major", "It is written as F,")]
    [InlineData("D#", "major", "It is written as E♭,")]
    [InlineData("C minor", "major", "exclude each other")]
    public void A_key_that_cannot_be_written_is_told_with_one_that_can(string key, string scale, string said)
    {
        Assert.True(KeyName.TryParse(key, out var name));
        var made = ExerciseMaker.Make(new ExerciseOrder { Kind = "scales", Keys = [name], Scale = scale }, Pupil.Of(Catalogue.Default));
        Assert.Contains(said, Assert.Single(made.Problems).ToString());
    }
}
