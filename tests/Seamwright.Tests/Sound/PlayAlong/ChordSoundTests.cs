using CsCheck;
using Seamwright.Core.Scores;
using Seamwright.Core.Sound.PlayAlong;
using Seamwright.Core.Units;
using static Seamwright.Tests.Scores.Files;

namespace Seamwright.Tests.Sound.PlayAlong;

public class ChordSoundTests
{
    private const double Rate = 48_000;

    [Fact]
    public void The_bass_takes_the_strong_beats_and_the_chord_the_others()
    {
        var tones = ChordTrack.Of(Parts.Schedule(Parts.Written("4/4", H("F", "major") + N("C3", 48), N("C3", 48)), new PlayAlongSettings { Turns = Turns.YouOnly, CountIn = 0 }));
        Assert.Equal("0bC 1C 2b 3C 4b 5C 6b 7C", string.Join(' ', tones.GroupBy(t => t.At).Select(g => $"{g.Key / 48_000}{(g.Any(t => t.IsBass) ? "b" : "")}{(g.Any(t => !t.IsBass) ? "C" : "")}")));
    }

    [Fact]
    public void A_change_between_the_beats_is_struck_there_and_no_chord_is_silent()
    {
        var part = Parts.Written("4/4", H("F", "major") + N("C3", 6) + H("C", "dominant") + N("C3", 18) + "<harmony><root><root-step>C</root-step></root><kind>none</kind></harmony>" + N("C3", 24));
        var tones = ChordTrack.Of(Parts.Schedule(part, new PlayAlongSettings { Turns = Turns.YouOnly, CountIn = 0 }));
        Assert.Equal([0, 0.5, 1], tones.Select(t => t.At / Rate).Distinct());
        Assert.All(tones, t => Assert.True(t.Until <= 96_000));
    }

    [Fact]
    public void The_tones_of_the_chord_are_heard_and_no_others()
    {
        var schedule = Parts.Schedule(Parts.Written("3/4", H("G", "dominant") + N("D3", 36)), new PlayAlongSettings { Turns = Turns.YouOnly, CountIn = 0 });
        var sound = Parts.All(new ChordFeed(schedule)).AsSpan(2400, 40_000).ToArray();
        var strong = Enumerable.Range(40, 30).Where(m => Parts.Amplitude(sound, Rate, Pitch.FromMidi(m).Frequency(Hertz.A440).Value) > 0.008).Select(m => m % 12).Distinct().Order();
        Assert.Equal([2, 5, 7, 11], strong);
    }

    [Fact]
    public void A_chord_does_not_sound_in_the_count_in_and_dies_away_at_the_end()
    {
        var schedule = Parts.Schedule(Parts.Written("4/4", H("F", "major") + N("C3", 48)), new PlayAlongSettings { Turns = Turns.ExampleThenYou, CountIn = 1 });
        var sound = Parts.All(new ChordFeed(schedule));
        Assert.Equal(-1, sound.AsSpan(0, 192_000).IndexOfAnyExcept(0f));
        Assert.True(SoundProbe.LevelDb(sound, Rate, 4.1, 0.1) > -40);
        Assert.True(SoundProbe.LevelDb(sound, Rate, sound.Length / Rate - 0.1, 0.1) < -80);
    }

    [Fact]
    public void A_struck_tone_is_a_sum_of_dying_sines()
    {
        // The slow equivalent of the recurrence: four partials of F2, each falling at its own rate.
        var schedule = Parts.Schedule(Parts.Written("4/4", H("F", "power") + N("C3", 48)), new PlayAlongSettings { Turns = Turns.YouOnly, CountIn = 0 });
        var sound = Parts.All(new ChordFeed(schedule));
        var peak = Math.Pow(10, -14 / 20.0) / (1.55 * 3);
        double[] partials = [1, 0.35, 0.14, 0.06];
        foreach (var n in new[] { 1000, 5000, 20_000 })
        {
            var expected = ChordTrack.Of(schedule).Where(t => t.At == 0).Sum(t => peak * (t.IsBass ? 1 : 0.5) * partials.Select((a, k) =>
                a * Math.Exp(-(k + 1) * n / (0.7 * Rate)) * Math.Sin(2 * Math.PI * (k + 1) * Pitch.FromMidi(t.Midi).Frequency(Hertz.A440).Value * n / Rate)).Sum());
            Assert.Equal(expected, sound[n], 1e-5);
        }
    }

    [Fact]
    public void Chords_are_close_hold_their_tones_and_move_little() => Gen.Select(Gen.Int[0, 11], Gen.Enum<ChordKind>(), Gen.Int[-5, 5]).Array[2, 12].Sample(chords =>
    {
        Voiced? before = null;
        foreach (var (_, kind, fifths) in chords)
        {
            var chord = new Chord(PitchName.OnFifths(fifths), kind);
            var voiced = Voicing.Next(chord, before);
            Assert.InRange(voiced.Bass, 40, 51);
            Assert.Equal(chord.Root.PitchClass, voiced.Bass % 12);
            Assert.InRange(voiced.Upper.Length, kind == ChordKind.Power ? 2 : 3, 4);
            Assert.InRange(voiced.Upper[0], 50, 61);
            Assert.True(voiced.Upper[^1] <= 69 && voiced.Upper[^1] - voiced.Upper[0] < 12);
            var tones = chord.Tones.Select(t => (chord.Root.PitchClass + t.Semitones) % 12).ToHashSet();
            Assert.All(voiced.Upper, m => Assert.Contains(m % 12, tones));
            Assert.Contains(voiced.Upper, m => kind is ChordKind.Power or ChordKind.DominantEleventh or ChordKind.MajorEleventh or ChordKind.SuspendedSecond or ChordKind.SuspendedFourth || chord.Tones.Any(t => t.Steps == 2 && (chord.Root.PitchClass + t.Semitones) % 12 == m % 12));
            before = voiced;
        }
    });

    [Fact]
    public void A_cadence_moves_by_steps_and_common_tones_stay()
    {
        Voiced? voiced = null;
        var (moved, stayed) = (new List<int>(), new List<int>());
        foreach (var (root, kind) in new[] { (Step.F, ChordKind.Major), (Step.D, ChordKind.Minor), (Step.G, ChordKind.Minor), (Step.C, ChordKind.Dominant), (Step.F, ChordKind.Major) })
        {
            var next = Voicing.Next(new Chord(new PitchName(root, 0), kind), voiced);
            if (voiced is not null) stayed.Add(next.Upper.Intersect(voiced.Upper).Count());
            if (voiced is not null) moved.Add(next.Upper.Max(t => voiced.Upper.Min(b => Math.Abs(b - t))));
            voiced = next;
        }

        Assert.Equal([2, 1, 2, 0], stayed);
        Assert.All(moved, m => Assert.InRange(m, 0, 3));
    }

    private static string H(string step, string kind) => $"<harmony><root><root-step>{step}</root-step></root><kind>{kind}</kind></harmony>";
}
