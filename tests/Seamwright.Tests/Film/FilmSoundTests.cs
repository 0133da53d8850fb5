using Seamwright.Core.Sound;
using Seamwright.Core.Sound.PlayAlong;
using Seamwright.Film;
using Seamwright.Film.Score;
using Seamwright.Film.Screen;
using Seamwright.Tests.Engraving;
using Seamwright.Tests.Sound.PlayAlong;

namespace Seamwright.Tests.Film;

public class FilmSoundTests
{
    private const string Tune = "tempo=@60 Bb3:4( C4:4 D4:4 Eb4:4 | F4:4 Eb4:4 D4:4 C4:4) |";
    private static readonly PlayAlongSettings Turned = new() { PhraseBars = 1, Chords = false };

    [Fact]
    public void Every_turn_is_a_passage_at_its_time_and_its_tempo()
    {
        var sheet = FilmParts.Planned(Tune);
        var sound = FilmSound.Of(PlayAlongMaker.LayOut([sheet.Plan, sheet.At(120).Value], Turned).Value);

        // Two seconds to look, four to count; then each bar twice, and all again in half the time.
        Assert.Equal([6.0, 10, 14, 18, 24, 26, 28, 30], sound.Passages.Select(p => Math.Round(p.At(p.Notes[0].Note.StartTime).Value, 6)));
        Assert.Equal([0, 0, 4, 4, 0, 0, 4, 4], sound.Passages.Select(p => p.FirstNote));
        var score = FilmParts.Score(sheet, [.. sound.Passages]);
        Assert.Equal(FilmParts.Head(sheet.Part, "n1-3").X, score.At(12).CursorX, 0.01);
        Assert.Equal(FilmParts.Head(sheet.Part, "n2-2").X, score.At(30.5).CursorX, 0.01);
        Assert.Equal((60, 120), (score.Bars[0].BeatsPerMinute, score.Bars[^1].BeatsPerMinute));
    }

    [Fact]
    public void The_sound_is_the_play_alongs_own_with_silence_around_it()
    {
        var schedule = PlayAlongMaker.LayOut([FilmParts.Planned(Tune).Plan], Turned with { Rate = new(8_000) }).Value;
        var sound = FilmSound.Of(schedule);
        var samples = Parts.All(sound.Sound, 997);
        Assert.Equal(sound.Duration.Value, samples.Length / 8_000.0, 3);
        Assert.Equal(16_000, Array.FindIndex(samples, s => s != 0) - 1);
        Assert.Equal(Parts.All(PlayAlongMaker.Sound(schedule)), samples.AsSpan(16_000, (int)schedule.Length).ToArray());
        sound.Sound.Restart();
        Assert.Equal(samples, Parts.All(sound.Sound));
    }

    [Fact]
    public void Signs_count_in_and_say_whose_turn_it_is()
    {
        var signs = FilmSound.Of(PlayAlongMaker.LayOut([FilmParts.Planned(Tune).Plan], Turned).Value).Signs;
        Assert.Equal(
            [(2.0, "count-in 1"), (3, "count-in 2"), (4, "count-in 3"), (5, "count-in 4"), (6, "listen"), (10, "your turn"), (14, "listen"), (18, "your turn")],
            signs.Select(s => (Math.Round(s.Time, 6), s.Text)));
        Assert.Equal(["your turn", "your turn"], signs.Where(s => s.IsYours).Select(s => s.Text));
        Assert.Empty(FilmParts.Sound(FilmParts.Planned(Tune)).Signs);
    }

    [Fact]
    public void An_example_that_is_wrong_on_purpose_says_so()
    {
        var schedule = PlayAlongMaker.LayOut([FilmParts.Planned(Tune).Plan], Turned).Value;
        var sound = FilmSound.Of(schedule with { Faults = new(Fault.Cracked, null, [1]) });
        Assert.Equal("cracked on purpose", sound.Remark);
        Assert.Contains(sound.Signs, s => s.Text == "faulty example");
        Assert.Equal("", FilmSound.Of(schedule).Remark);
    }

    [Fact]
    public void The_pupils_turn_lies_on_light_in_the_head()
    {
        var sheet = FilmParts.Planned(Tune);
        var sound = FilmSound.Of(PlayAlongMaker.LayOut([sheet.Plan], Turned).Value);
        var screen = new FilmMaker(SharedEngraver.Instance).Screen(new(sheet.Part, sheet.Plan, sound, new()))!;
        var dot = ((ScreenLayout.Turn.Top + 4) * ScreenLayout.Width) + ScreenLayout.Turn.Left + 4;
        foreach (var (time, ink) in new[] { (7.0, ScreenLayout.Paper), (11, ScreenLayout.Lit), (15, ScreenLayout.Paper), (19, ScreenLayout.Lit) })
            StandScreenTests.Near(StandScreenTests.Light(ink), screen.Frame(time)[dot]);
    }

    [Theory]
    [InlineData(BeatNote.Quarter)]
    [InlineData(BeatNote.DottedQuarter)]
    [InlineData(BeatNote.Half)]
    public void A_tempos_note_is_hollow_only_where_it_is_a_half(BeatNote beat)
    {
        var picture = NoteSigns.Of(beat, new Draughtsman(SharedEngraver.Fonts));
        Assert.Equal(beat == BeatNote.Half, picture.Row(51)[(4 * 14) + 3] < 40);
        Assert.Equal(beat == BeatNote.DottedQuarter, picture.Row(50)[(4 * 38) + 3] > 200);
        Assert.True(picture.Row(20)[(4 * 24) + 3] > 100);
    }
}
