using CsCheck;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Units;

public class PitchLawTests
{
    private static readonly Gen<Pitch> Pitches = Gen.Select(Gen.Int[0, 6], Gen.Int[-1, 1], Gen.Int[1, 5], (s, a, o) => new Pitch((Step)s, a, o));

    // Intervals that exist in print: a letter count with at most one semitone off its natural size.
    private static readonly Gen<Interval> Intervals = Gen.Select(Gen.Int[0, 14], Gen.Int[-1, 1], (steps, off) =>
        new Interval(steps, new Pitch((Step)(steps % 7), 0, steps / 7).Midi - 12 + off));

    // The worked rules of interval spelling: letters are counted first, semitones second (common practice of music theory).
    [Theory]
    [InlineData("C4", "E4", 2, 4)] // major third
    [InlineData("C4", "Eb4", 2, 3)] // minor third
    [InlineData("C4", "D#4", 1, 3)] // augmented second
    [InlineData("F3", "B3", 3, 6)] // augmented fourth
    [InlineData("B3", "F4", 4, 6)] // diminished fifth
    [InlineData("B3", "C4", 1, 1)] // minor second across the octave number
    [InlineData("B#3", "C4", 1, 0)] // diminished second: the same sound
    [InlineData("Bb2", "C4", 8, 14)] // major ninth
    [InlineData("G4", "C4", -4, -7)] // a fifth down
    public void An_interval_counts_letters_and_semitones(string from, string to, int steps, int semitones) =>
        Assert.Equal(new Interval(steps, semitones), Pitch.Parse(to) - Pitch.Parse(from));

    [Theory]
    [InlineData("Bb2", 8, 14, "C4")]
    [InlineData("Eb3", 8, 14, "F4")]
    [InlineData("F#3", 1, 2, "G#3")]
    [InlineData("E3", 1, 1, "F3")]
    [InlineData("Ab3", 2, 4, "C4")]
    [InlineData("B3", 3, 6, "E#4")]
    [InlineData("Cb4", -1, -2, "Bbb3")]
    public void Transposition_keeps_the_spelling(string pitch, int steps, int semitones, string expected) =>
        Assert.Equal(expected, (Pitch.Parse(pitch) + new Interval(steps, semitones)).ToString());

    [Fact]
    public void Up_and_down_again_is_where_it_was() => Gen.Select(Pitches, Intervals).Sample((pitch, interval) =>
    {
        // Beyond a double accidental another letter is taken, and only the sound comes back.
        var there = pitch + interval;
        if (there.StaffIndex == pitch.StaffIndex + interval.Steps) Assert.Equal(pitch, there - interval);
        else Assert.Equal(pitch.Midi, (there - interval).Midi);
    });

    [Fact]
    public void Transposing_moves_the_sound_by_the_semitones() => Gen.Select(Pitches, Intervals).Sample((pitch, interval) =>
        Assert.Equal(pitch.Midi + interval.Semitones, (pitch + interval).Midi));

    [Fact]
    public void The_difference_of_two_pitches_leads_from_one_to_the_other() => Gen.Select(Pitches, Pitches).Sample((a, b) => Assert.Equal(b, a + (b - a)));

    [Fact]
    public void Intervals_add_as_the_steps_they_are() => Gen.Select(Pitches, Pitches, Pitches).Sample((a, b, c) => Assert.Equal(c - a, (b - a) + (c - b)));

    [Fact]
    public void What_is_printed_is_read_again() => Pitches.Sample(p => Assert.Equal(p, Pitch.Parse(p.ToString())));

    [Fact]
    public void Order_is_by_sound() => Gen.Select(Pitches, Pitches).Sample((a, b) => Assert.True(a.Midi >= b.Midi || a < b));

    [Theory]
    [InlineData(-3, 8, 14, -1)] // three flats, a ninth up for a B-flat part: one flat
    [InlineData(0, 1, 2, 2)]
    [InlineData(2, -4, -7, 1)]
    [InlineData(-2, 2, 3, -5)]
    [InlineData(6, 1, 2, -4)] // eight sharps do not exist: four flats
    [InlineData(-6, 2, 3, 3)] // nine flats do not exist: three sharps
    public void A_key_moves_round_the_circle_of_fifths(int fifths, int steps, int semitones, int expected) =>
        Assert.Equal(expected, new KeySignature(fifths).Transposed(new Interval(steps, semitones)).Fifths);

    [Fact]
    public void A_key_moved_up_and_down_sounds_where_it_was() => Gen.Select(Gen.Int[-7, 7], Intervals).Sample((fifths, interval) =>
    {
        var back = new KeySignature(fifths).Transposed(interval).Transposed(-interval).Fifths;
        Assert.InRange(back, -7, 7);
        Assert.Equal(0, (back - fifths) % 12);
    });

    [Fact]
    public void A_scale_moves_with_its_key() => Gen.Select(Gen.Int[-4, 4], Gen.Int[-2, 2]).Sample((fifths, move) =>
    {
        // The interval of so many fifths, brought near.
        var interval = new Interval((4 * move) - (7 * (move / 2)), (7 * move) - (12 * (move / 2)));
        var (key, moved) = (new KeySignature(fifths), new KeySignature(fifths).Transposed(interval));
        if (Math.Abs(fifths + move) > 7) return;
        foreach (var step in Enum.GetValues<Step>())
        {
            var note = new Pitch(step, key.AlterOf(step), 3) + interval;
            Assert.Equal(moved.AlterOf(note.Step), note.Alter);
        }
    });
}
