using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;

namespace Seamwright.Tests.Exercises;

/// <summary>All twelve keys, whatever stands on them, and the order they come in.</summary>
public class OrderedKeysTests
{
    private static readonly Pupil Grown = Pupil.Of(Catalogue.Default, level: 5);

    public static TheoryData<string> Chords => [.. Arpeggio.All.Select(a => a.Name)];

    [Theory]
    [MemberData(nameof(Chords))]
    public void All_twelve_keys_of_a_chord_are_made(string chord)
    {
        var made = ExerciseMaker.Make(new ExerciseOrder { Kind = "arpeggios", Chord = chord, Octaves = 1, Keys = TwelveKeys.Named(null, chord) }, Grown);
        Assert.True(made.Succeeded, string.Join("; ", made.Problems));
        Assert.Empty(made.Problems);
        Assert.Equal(12, made.Value.Exercises.Select(e => e.Plan.Notes[0].Note.Pitch.Name.PitchClass).Distinct().Count());
    }

    [Theory]
    [InlineData("scales", "blues", null, "Db", "C♯ blues")]
    [InlineData("scales", "dorian", null, "Gb", "F♯ dorian")]
    [InlineData("arpeggios", null, "minor", "Db", "C♯ minor arpeggio")]
    public void A_key_too_far_gets_the_name_that_sounds_the_same_and_says_so(string kind, string? scale, string? chord, string key, string expected)
    {
        var made = ExerciseMaker.Make(new ExerciseOrder { Kind = kind, Scale = scale, Chord = chord, Keys = [Key(key)] }, Grown);
        Assert.True(made.Succeeded, string.Join("; ", made.Problems));
        Assert.Equal(expected, made.Value.Exercises.Single().Key);
        Assert.Contains("It is written as", Assert.Single(made.Problems).Hint);
    }

    [Fact]
    public void One_key_that_excludes_the_scale_does_not_lose_the_others()
    {
        var made = ExerciseMaker.Make(new ExerciseOrder { Kind = "scales", Scale = "major", Keys = [Key("Bb"), Key("A minor")] }, Grown);
        Assert.Equal("B♭ major", made.Value.Exercises.Single().Key);
        Assert.Contains("exclude each other", Assert.Single(made.Problems).What);
        Assert.False(ExerciseMaker.Make(new ExerciseOrder { Kind = "scales", Scale = "major", Keys = [Key("A minor")] }, Grown).Succeeded);
    }

    [Theory]
    [InlineData("three-passes", "major", "contrabass-f")]
    [InlineData("scales", "harmonic-minor", "tenor-f")]
    [InlineData("scales", "major", "tenor-f")]
    public void Printed_levels_rise_and_within_a_level_the_keys_go_round_the_circle(string kind, string scale, string horn)
    {
        var pupil = Pupil.Of(Catalogue.Find(horn)!);
        var made = Made.Of(new ExerciseOrder { Kind = kind, Scale = scale, Octaves = 1, Keys = TwelveKeys.Named(scale, null) }, pupil);
        Assert.True(made.Count == 12);
        Assert.Equal(made.Select(e => e.Level).Order(), made.Select(e => e.Level));
        foreach (var level in made.GroupBy(e => e.Level))
        {
            var steps = level.Select(e => (((pupil.Instrument.Pedal.Name.Fifths - e.Part.Bars[0].Key.Fifths) % 12) + 12) % 12).ToList();
            Assert.Equal(steps.Order(), steps);
        }
    }

    [Fact]
    public void A_key_without_room_for_an_octave_gives_its_first_five_notes_beside_the_others()
    {
        var pupil = Pupil.Of(Catalogue.Default, new() { Player = new() { ValvesAllowed = false } }, level: 2);
        var made = Made.Of(new ExerciseOrder { Kind = "scales", Keys = [Key("Bb"), Key("Eb")] }, pupil);
        Assert.Equal(["B♭ major", "E♭ major"], made.Select(e => e.Key).Order(StringComparer.Ordinal));
        Assert.Contains("the first five notes", made.Single(e => e.Key == "E♭ major").Title);
        Assert.DoesNotContain("five", made.Single(e => e.Key == "B♭ major").Title);
    }

    private static KeyName Key(string name) => KeyName.TryParse(name, out var key) ? key : throw new ArgumentException(name);
}
