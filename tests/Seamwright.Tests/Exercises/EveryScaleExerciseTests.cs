using System.Collections.Immutable;
using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Exercises;

/// <summary>Every exercise on scales for every instrument: those that should exist do, and none asks for what cannot be.</summary>
public class EveryScaleExerciseTests
{
    // Semitones of an octave, written down apart from the scales of the program (common practice).
    private static readonly Dictionary<string, string> Semitones = new()
    {
        ["major"] = "0 2 4 5 7 9 11 12",
        ["natural-minor"] = "0 2 3 5 7 8 10 12",
        ["harmonic-minor"] = "0 2 3 5 7 8 11 12",
        ["melodic-minor"] = "0 2 3 5 7 8 9 10 11 12",
        ["dorian"] = "0 2 3 5 7 9 10 12",
        ["phrygian"] = "0 1 3 5 7 8 10 12",
        ["lydian"] = "0 2 4 6 7 9 11 12",
        ["mixolydian"] = "0 2 4 5 7 9 10 12",
        ["locrian"] = "0 1 3 5 6 8 10 12",
        ["major-pentatonic"] = "0 2 4 7 9 12",
        ["minor-pentatonic"] = "0 3 5 7 10 12",
        ["blues"] = "0 3 5 6 7 10 12",
        ["whole-tone"] = "0 2 4 6 8 10 12",
        ["chromatic"] = "0 1 2 3 4 5 6 7 8 9 10 11 12",
        ["major-arpeggio"] = "0 4 7 12",
        ["minor-arpeggio"] = "0 3 7 12",
        ["diminished-arpeggio"] = "0 3 6 12",
        ["augmented-arpeggio"] = "0 4 8 12",
        ["dominant-seventh-arpeggio"] = "0 4 7 10 12",
        ["major-seventh-arpeggio"] = "0 4 7 11 12",
        ["minor-seventh-arpeggio"] = "0 3 7 10 12",
        ["minor-major-seventh-arpeggio"] = "0 3 7 11 12",
        ["half-diminished-arpeggio"] = "0 3 6 10 12",
        ["diminished-seventh-arpeggio"] = "0 3 6 9 12",
    };

    public static TheoryData<string> Instruments => [.. Catalogue.Ids];

    [Theory]
    [MemberData(nameof(Instruments))]
    public void Major_minor_and_chromatic_from_the_first_year_to_the_profession(string instrument)
    {
        foreach (var level in new[] { 1, 3, 6 })
        {
            foreach (var scale in new[] { "major", "harmonic-minor", "chromatic" }) CheckAll(Pupil.Of(Catalogue.Find(instrument)!, level: level), scale);
        }
    }

    [Theory]
    [MemberData(nameof(Instruments))]
    public void Every_scale_and_chord_on_a_middle_level(string instrument)
    {
        var pupil = Pupil.Of(Catalogue.Find(instrument)!, level: 4);
        foreach (var scale in Scale.All.Where(s => s.Name is not ("major" or "harmonic-minor" or "chromatic"))) CheckAll(pupil, scale.Name);
        foreach (var chord in Arpeggio.All) Check(pupil, new ExerciseOrder { Kind = "arpeggios", Chord = chord.Name }, chord, Semitones[chord.Name + "-arpeggio"]);
    }

    [Fact]
    public void A_child_whose_arm_reaches_five_positions_gets_what_that_arm_plays()
    {
        var settings = new PlanSettings { Player = new Player { FurthestPosition = 5, ValvesAllowed = false } };
        var pupil = Pupil.Of(Catalogue.Default, settings, level: 2);
        CheckAll(pupil, "major");
        Assert.False(pupil.Plays(Pitch.Parse("C3")));
    }

    private static void CheckAll(Pupil pupil, string name)
    {
        var scale = Scale.Find(name)!;
        Check(pupil, new ExerciseOrder { Kind = "three-passes", Scale = name, Octaves = 1 }, scale, Semitones[name]);
        Check(pupil, new ExerciseOrder { Kind = "scales", Scale = name, Octaves = 1 }, scale, Semitones[name]);
        Check(pupil, new ExerciseOrder { Kind = "intervals", Scale = name, Interval = 3 }, scale, Semitones[name]);

        // The whole octave: four notes of the scale, moved so far that the last of them is the octave.
        var steps = scale.Count - 2;
        Check(pupil, new ExerciseOrder { Kind = "pattern", Scale = name, Pattern = $"1:8 2 3 4 3 2 up {steps} down" }, scale, Semitones[name]);
    }

    private static void Check(Pupil pupil, ExerciseOrder order, Scale scale, string semitones)
    {
        var keys = TwelveKeys.For(scale);
        var all = order with { Keys = [.. keys.Select(k => new KeyName(k, null))], Register = Register.All };
        var expected = keys.SelectMany(k => Firsts(pupil, k, [.. semitones.Split(' ').Select(int.Parse)])).Order().ToList();
        var made = ExerciseMaker.Make(all, pupil);
        if (expected.Count == 0)
        {
            Assert.False(made.Succeeded);
            return;
        }

        Assert.True(made.Succeeded, $"{pupil.Instrument.Id} {order}: {string.Join("; ", made.Problems)}");
        var exercises = made.Value.Exercises;
        Assert.Equal(expected, exercises.Select(e => e.Range.Low.Midi).Order());
        Assert.Equal(exercises.Length, exercises.Select(e => e.Id).Distinct().Count());
        Assert.Equal(exercises.Select(e => e.Level).Order(), exercises.Select(e => e.Level));
        foreach (var exercise in exercises) CheckOne(pupil, exercise, scale);
    }

    // First notes from which the whole octave can be played, found by trying them all.
    private static IEnumerable<int> Firsts(Pupil pupil, PitchName tonic, ImmutableArray<int> semitones)
    {
        var playable = Enumerable.Range(pupil.Lowest.Midi, pupil.Highest.Midi - pupil.Lowest.Midi + 1).Where(m => Playable(pupil, Pitch.FromMidi(m))).ToHashSet();
        return playable.Where(m => m % 12 == tonic.PitchClass && semitones.All(s => playable.Contains(m + s)));
    }

    private static bool Playable(Pupil pupil, Pitch pitch)
    {
        var player = pupil.Settings.Player;
        return pupil.Instrument.SettingsFor(pitch).Any(s => (player.ValvesAllowed || s.Valves.IsEmpty) && s.Position <= (player.FurthestPosition ?? 9) + 0.25);
    }

    private static void CheckOne(Pupil pupil, Exercise exercise, Scale scale)
    {
        foreach (var tempo in new[] { exercise.Tempos[0], exercise.Tempos[^1] })
        {
            var plan = Planner.Plan(Unfolder.Play(exercise.Part, "", tempo).Value, pupil.Instrument, pupil.Settings).Value;
            Assert.All(plan.Notes, n => Assert.NotNull(n.Setting));
            Assert.All(plan.Changes, c => Assert.True(c.Plausible, $"{exercise.Id} at {tempo}: {c.PeakSpeed} m/s"));
            Assert.All(plan.Changes.Where(c => c.Intent == ChangeIntent.NaturalSlur), c => Assert.True(c.Kind is ChangeKind.NaturalSlur or ChangeKind.ValveSlur, exercise.Id));
        }

        Assert.All(exercise.Part.Notes, n => Assert.True(pupil.Plays(n.Pitch), $"{exercise.Id}: {n.Pitch}"));
        CheckSpelling(exercise, scale);
        CheckBreaths(exercise);
    }

    private static void CheckSpelling(Exercise exercise, Scale scale)
    {
        var names = exercise.Part.Notes.Select(n => n.Pitch.Name).Distinct().ToList();
        if (scale.Spelling == ScaleSpelling.ByInterval)
        {
            // One name a letter, except where the way down lowers the sixth and seventh.
            var differ = scale.Up.Zip(scale.Down).Count(p => p.First != p.Second);
            Assert.True(names.Count <= scale.Count + differ, $"{exercise.Id}: {string.Join(' ', names)}");
            Assert.Equal(scale.Count, names.Select(n => n.Step).Distinct().Count());
        }
        else
        {
            Assert.DoesNotContain(names, Spellings.IsAwkward);
        }
    }

    // From one breath or rest to the next, at the slowest tempo.
    private static void CheckBreaths(Exercise exercise)
    {
        var held = 0.0;
        foreach (var e in exercise.Part.Bars.SelectMany(b => b.Events))
        {
            held = e is Note ? held + e.Duration.ToDouble() : 0;
            Assert.True(held * 60 / exercise.Tempos[0] <= 12 + 1e-6, $"{exercise.Id}: {held} beats at {exercise.Tempos[0]}");
            if (e is Note { BreathAfter: true }) held = 0;
        }
    }
}
