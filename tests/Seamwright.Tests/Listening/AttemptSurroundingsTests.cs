using Seamwright.Core.Listening;
using Seamwright.Core.Sound;

namespace Seamwright.Tests.Listening;

/// <summary>What sounds beside the player, and what rooms and telephones make of it.</summary>
public class AttemptSurroundingsTests
{
    private const string Line = "Bb2~ C3~ D3~ F3 Eb3~ D3~ C3:2 D3~ F3~ G3~ Bb3 A3~ G3~ F3:2 G3~ Eb3~ C3~ A2 F3:2~ Eb3~ C3 Bb2:4";
    private static AttemptTape Tape => new AttemptTape().Rest(0.8);

    [Fact]
    public void Count_in_clicks_are_noise()
    {
        var take = Tape.Clicks(96).Play(Line).HeardAsPlayed(AttemptTape.PlanOf(Line));
        Assert.NotEmpty(take.Unmatched);
        Assert.All(take.Unmatched, u => Assert.True(u.Kind == UnmatchedKind.Noise && u.End < take.Attempts[0].Start, $"{u}"));
    }

    [Fact]
    public void Clicks_all_the_way_do_not_disturb()
    {
        var clicks = new AttemptTape().Clicks(96, 30);
        Tape.Play(Line).Behind(clicks, -12, 0.9).HeardAsPlayed(AttemptTape.PlanOf(Line));
    }

    [Fact]
    public void Speech_between_attempts_is_noise_and_parts_them()
    {
        var tape = Tape.Speech(3).Rest(0.5).Play(Line).Rest(0.4).Speech(5).Rest(0.3).Play(Line, 88).Rest(0.3).Speech(2);
        var take = tape.HeardAsPlayed(AttemptTape.PlanOf(Line));
        Assert.True(take.Unmatched.Where(u => u.Kind == UnmatchedKind.Noise).Sum(u => (u.End - u.Start).Value) > 7);
        Assert.DoesNotContain(take.Unmatched, u => u.Kind == UnmatchedKind.Tones && (u.End - u.Start).Value > 1.5);
    }

    [Fact]
    public void Bursts_of_noise_between_attempts_are_noise()
    {
        var take = Tape.Play(Line).Rest(0.5).Noise(0.6, -25).Rest(0.5).Play(Line).HeardAsPlayed(AttemptTape.PlanOf(Line));
        Assert.Equal(UnmatchedKind.Noise, Assert.Single(take.Unmatched).Kind);
    }

    [Fact]
    public void Warming_up_before_is_tones()
    {
        var take = Tape.Play("E2:4~ B2:4~ E3:4", asked: _ => null).Rest(1).Play(Line);
        take.Passes.RemoveAt(0);
        Assert.All(take.HeardAsPlayed(AttemptTape.PlanOf(Line)).Unmatched, u => Assert.Equal(UnmatchedKind.Tones, u.Kind));
    }

    [Theory]
    [InlineData(116.54, -20, true)]
    [InlineData(116.54, -20, false)]
    [InlineData(174.61, -20, true)]
    [InlineData(233.08, -26, true)]
    [InlineData(58.27, -20, true)]
    [InlineData(50, -32, true)]
    public void A_drone_or_hum_behind_everything_is_not_taken_for_the_line(double hz, double below, bool saw)
    {
        var take = Tape.Play(Line).Rest(2).Play(Line).Rest(1.5).Drone(hz, -20 + below, saw).HeardAsPlayed(AttemptTape.PlanOf(Line));
        Assert.Empty(take.Unmatched);
    }

    [Fact]
    public void A_play_along_in_the_background_is_not_the_player()
    {
        var playAlong = new AttemptTape().Play(Line, level: -20).Rest(0.5).Play(Line);
        var tape = Tape.Rest(16).Play(Line).Rest(1).Behind(playAlong, -24, 0);
        tape.HeardAsPlayed(AttemptTape.PlanOf(Line));
    }

    [Theory]
    [InlineData(-40)]
    [InlineData(-30)]
    public void Hiss_twenty_or_ten_decibels_below_does_not_disturb(double db) =>
        Tape.Play(Line).Rest(1).Play(Line).Hiss(db).HeardAsPlayed(AttemptTape.PlanOf(Line));

    [Fact]
    public void Clipping_does_not_disturb() => Tape.Play(Line).Rest(1).Play(Line).Clipped(20).HeardAsPlayed(AttemptTape.PlanOf(Line));

    [Fact]
    public void A_telephones_levelling_does_not_disturb() =>
        Tape.Play(Line).Rest(1).Play(Line).Hiss(-60).Levelled(4).HeardAsPlayed(AttemptTape.PlanOf(Line));

    [Fact]
    public void A_telephones_narrow_band_does_not_disturb() =>
        Tape.Play(Line).Rest(1).Play(Line).Telephoned().HeardAsPlayed(AttemptTape.PlanOf(Line));

    [Fact]
    public void What_hides_most_is_told_first_of_low_notes_in_a_room()
    {
        const string Low = "F2:2~ G2:2~ Ab2:2~ Bb2:2";
        var plan = AttemptTape.PlanOf(Low);
        Assert.All(new AttemptTape().Rest(0.5).Play(Low).Rest(2).Heard(plan).Changes.Take(2), c => Assert.Equal([Doubt.LowNote], c.Doubts));
        Assert.All(new AttemptTape().Rest(0.5).Play(Low).Rest(2).Reverb(0.5, -6).Heard(plan).Changes.Take(2), c => Assert.Equal([Doubt.Reverberation, Doubt.LowNote], c.Doubts.Where(d => d is Doubt.LowNote or Doubt.Reverberation)));
    }

    [Theory]
    [InlineData(0.4, -6)]
    [InlineData(1.2, -6)]
    public void A_rooms_reverberation_does_not_disturb_nor_count_as_sound_of_its_own(double seconds, double wet)
    {
        var take = Tape.Play(Line).Rest(2).Play(Line).Reverb(seconds, wet).HeardAsPlayed(AttemptTape.PlanOf(Line));
        Assert.Empty(take.Unmatched);
    }

    [Fact]
    public void Vibrato_does_not_disturb() => Tape.Play(Line, vibrato: 30).HeardAsPlayed(AttemptTape.PlanOf(Line));

    [Theory]
    [InlineData("C3~ E3~ G3~ C4 B3~ G3~ E3:2 F3~ A3~ G3~ E3 D3:2~ C3:2")]
    [InlineData("Eb3:2~ G2:2 Ab2~ C3~ Eb3:2 F2:2~ Db3:2 C3~ Ab2~ F2:2")]
    [InlineData("F3~ F3~ Eb3~ F3 Bb2~ Bb2~ F3~ D3 C3:2 Eb3:2 A2~ A2~ C3~ F3 G3:2 F3:2")]
    public void Another_tune_is_not_forced_onto_the_part(string other)
    {
        var take = Tape.Play(other).Heard(AttemptTape.PlanOf(Line));
        Assert.True(take.Attempts.IsEmpty, $"{string.Join(", ", take.Attempts.Select(a => $"{a.NotesFound} notes at {a.Transposition}"))}");
        Assert.All(take.Unmatched, u => Assert.Equal(UnmatchedKind.Tones, u.Kind));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Speech_alone_holds_no_attempt(int seed)
    {
        var noise = new SeededNoise((uint)seed);
        var take = Tape.Noise(0.1 * (1 + noise.Uniform()), -30).Speech(20).Heard(AttemptTape.PlanOf(Line));
        Assert.Empty(take.Attempts);
    }
}
