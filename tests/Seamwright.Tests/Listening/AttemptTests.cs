using Seamwright.Core.Listening;

namespace Seamwright.Tests.Listening;

/// <summary>Practice as it is: stumbles, restarts, several attempts, other sounds, bad rooms and microphones.</summary>
public class AttemptTests
{
    // Six bars of four quarters and one last note; bars 1, 3 and 5 begin with different figures.
    private const string Line = "Bb2~ C3~ D3~ F3 Eb3~ D3~ C3:2 D3~ F3~ G3~ Bb3 A3~ G3~ F3:2 G3~ Eb3~ C3~ A2 F3:2~ Eb3~ C3 Bb2:4";
    private static readonly int[] BarStarts = [0, 4, 7, 11, 14, 18, 21];

    [Theory]
    [InlineData(48)]
    [InlineData(72)]
    [InlineData(96)]
    [InlineData(144)]
    [InlineData(190)]
    public void Any_tempo_is_followed(double tempo)
    {
        var take = new AttemptTape().Rest(0.4).Play(Line, tempo).HeardAsPlayed(AttemptTape.PlanOf(Line));
        Assert.InRange(take.TempoRatio!.Value, 0.97 * tempo / 96, 1.03 * tempo / 96);
        Assert.Empty(take.Unmatched);
    }

    [Fact]
    public void A_gradual_accelerando_of_a_fifth_is_followed() =>
        new AttemptTape().Rest(0.4).Play(Line, warp: t => 80 * (1 - Math.Exp(-t / 80))).HeardAsPlayed(AttemptTape.PlanOf(Line));

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Rubato_of_thirty_per_cent_a_beat_is_followed(int seed)
    {
        var noise = new Seamwright.Core.Sound.SeededNoise((uint)seed);
        var beats = new List<double> { 0 };
        for (var i = 0; i < 40; i++) beats.Add(beats[^1] + (60.0 / 96 * (1 + (0.3 * noise.Uniform()))));
        double Warp(double t)
        {
            var beat = t * 96 / 60;
            var i = (int)beat;
            return beats[i] + ((beat - i) * (beats[i + 1] - beats[i]));
        }

        new AttemptTape().Rest(0.4).Play(Line, warp: Warp).HeardAsPlayed(AttemptTape.PlanOf(Line));
    }

    [Theory]
    [InlineData(2, 1.5)]
    [InlineData(7, 3)]
    [InlineData(12, 6)]
    public void A_pause_inside_a_pass_does_not_part_it(int after, double seconds)
    {
        var words = Line.Split(' ').ToList();
        words.Insert(after, $"r:{(int)(seconds * 1.6)}");
        new AttemptTape().Rest(0.4).Play(string.Join(' ', words)).HeardAsPlayed(AttemptTape.PlanOf(Line));
    }

    [Fact]
    public void A_note_held_ten_times_as_long_is_still_the_note() =>
        new AttemptTape().Rest(0.4).Play(Line, warp: t => t > 7.51 ? t + 6 : t).HeardAsPlayed(AttemptTape.PlanOf(Line));

    [Theory]
    [InlineData("Bb1~ C2~ D2~ F2 Eb2~ D2~ C2:2 D2~ F2~ G2~ Bb2 A2~ G2~ F2:2 G2~ Eb2~ C2~ D2 F2:2~ Eb2~ C2 Bb1:4", -12, 17)]
    [InlineData("Bb3~ C4~ D4~ F4 Eb4~ D4~ C4:2 D4~ F4~ G4~ Bb4 A4~ G4~ F4:2 G4~ Eb4~ C4~ A3 F4:2~ Eb4~ C4 Bb3:4", 12, -1)]
    [InlineData("D3~ E3~ F#3~ A3 G3~ F#3~ E3:2 F#3~ A3~ B3~ D4 C#4~ B3~ A3:2 B3~ G3~ E3~ C#3 A3:2~ G3~ E3 D3:4", 4, -1)]
    [InlineData("A2~ B2~ C#3~ E3 D3~ C#3~ B2:2 C#3~ E3~ F#3~ A3 G#3~ F#3~ E3:2 F#3~ D3~ B2~ G#2 E3:2~ D3~ B2 A2:4", -1, -1)]
    public void A_line_played_in_another_key_or_octave_is_found_and_named(string played, int transposition, int different)
    {
        var take = new AttemptTape().Rest(0.4).Play(played, asked: i => i == different ? null : i).HeardAsPlayed(AttemptTape.PlanOf(Line));
        Assert.Equal(transposition, take.Attempts[0].Transposition);
    }

    [Theory]
    [InlineData(-50)]
    [InlineData(-30)]
    [InlineData(30)]
    [InlineData(50)]
    public void A_player_whose_horn_is_out_of_tune_plays_as_written(double cents)
    {
        var take = new AttemptTape().Rest(0.4).Play(Line, cents: cents).HeardAsPlayed(AttemptTape.PlanOf(Line));
        Assert.Equal(0, take.Attempts[0].Transposition);
    }

    [Theory]
    [InlineData(2, "G3")]
    [InlineData(5, "E3")]
    [InlineData(9, "A3")]
    [InlineData(16, "D3")]
    [InlineData(17, "Bb2")]
    public void A_wrong_note_is_not_found_and_stays_as_tones(int at, string wrong)
    {
        var words = Line.Split(' ');
        words[at] = wrong + words[at][(words[at].Contains('b') ? 3 : 2)..];
        var tape = new AttemptTape().Rest(0.4).Play(string.Join(' ', words), asked: i => i == at ? null : i);
        var take = tape.HeardAsPlayed(AttemptTape.PlanOf(Line));
        var unmatched = Assert.Single(take.Unmatched);
        Assert.Equal(UnmatchedKind.Tones, unmatched.Kind);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(6)]
    [InlineData(10)]
    [InlineData(15)]
    public void A_missing_note_leaves_the_others_found(int missing)
    {
        var words = Line.Split(' ').ToList();
        words.RemoveAt(missing);
        new AttemptTape().Rest(0.4).Play(string.Join(' ', words), asked: i => i < missing ? i : i + 1).HeardAsPlayed(AttemptTape.PlanOf(Line));
    }

    [Theory]
    [InlineData(3, "Ab2 E3")]
    [InlineData(8, "C4 D4")]
    [InlineData(14, "F#3 B2")]
    public void Two_added_notes_are_tones_that_were_not_asked_for(int before, string added)
    {
        var words = Line.Split(' ').ToList();
        words.InsertRange(before, added.Split(' ').Select(n => n + "~"));
        var take = new AttemptTape().Rest(0.4).Play(string.Join(' ', words), asked: i => i < before ? i : i < before + 2 ? null : i - 2).HeardAsPlayed(AttemptTape.PlanOf(Line));
        Assert.Equal(UnmatchedKind.Tones, Assert.Single(take.Unmatched).Kind);
    }

    [Fact]
    public void Three_attempts_in_a_file_are_each_measured()
    {
        var tape = new AttemptTape().Rest(0.4).Play(Line).Rest(2).Play(Line, 110).Rest(0.8).Play(Line, 84);
        var take = tape.HeardAsPlayed(AttemptTape.PlanOf(Line));
        Assert.All(take.Attempts, a => Assert.All(a.Changes, c => Assert.True(c.Found && (c.Glide is not null || c.Dip is not null))));
        Assert.Equal([1, 1.15, 0.88], take.Attempts.Select(a => Math.Round(a.TempoRatio!.Value, 2)));
        Assert.Equal(take.Attempts[2].Start, take.Notes[0].Onset);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(0.15)]
    [InlineData(3)]
    public void After_a_restart_from_any_bar_every_note_is_found_in_the_second_attempt(double pause)
    {
        var plan = AttemptTape.PlanOf(Line);
        for (var n = 0; n < 24; n += 5)
        {
            // Broken off anywhere after the fourth note, taken up again from a bar that was already begun.
            var cut = 2.5 + (n * 0.37);
            var reached = plan.Notes.Count(x => x.Note.StartTime.Value < cut);
            var from = BarStarts.Where(b => b + 3 <= reached).ElementAt(n % BarStarts.Count(b => b + 3 <= reached));
            var tape = new AttemptTape().Rest(0.3).Play(Line, until: cut).Rest(pause).Play(Line, from: from);
            var take = tape.Heard(plan);
            var described = $"cut at {cut}, from {from}: {string.Join(" | ", take.Attempts.Select(a => string.Join(' ', a.Notes.Where(x => x.Found).Select(x => $"{x.Index}@{x.Onset!.Value.Value:F2}"))))}";
            Assert.True(take.Attempts.Length == 2, described);
            foreach (var (index, truth) in tape.Passes[1])
            {
                var note = take.Attempts[1].Notes[index];
                Assert.True(note.Found && Math.Abs(note.Onset!.Value.Value - truth.Time) < 0.06, $"note {index}; {described}");
            }
        }
    }
}
