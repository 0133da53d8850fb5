using Seamwright.Core.Planning;
using Seamwright.Core.Units;
using Seamwright.Film.Score;
using Seamwright.Tests.Cli;

namespace Seamwright.Tests.Film;

public class FilmScoreTests
{
    public static TheoryData<string> Melodies => [.. CommandLine.Melodies().Select(m => Path.GetFileNameWithoutExtension(m))];

    [Theory]
    [MemberData(nameof(Melodies))]
    public void The_cursor_never_goes_back_within_a_run(string melody)
    {
        var score = FilmParts.Score(FilmParts.Melody(melody));
        var (visit, x) = (-1, 0.0);
        for (var t = 0.0; t < score.Visits[^1].End + 1; t += 0.01)
        {
            var moment = score.At(t);
            Assert.True(moment.Visit > visit || (moment.Visit == visit && moment.CursorX >= x), $"{t:0.00} s: {x:0} to {moment.CursorX:0}");
            (visit, x) = (moment.Visit, moment.CursorX);
        }
    }

    [Theory]
    [MemberData(nameof(Melodies))]
    public void The_cursor_is_on_every_head_when_its_note_begins_repeats_included(string melody)
    {
        var sheet = FilmParts.Melody(melody);
        var score = FilmParts.Score(sheet);
        foreach (var note in sheet.Plan.Notes.Where(n => !n.Note.IsGrace).Select(n => n.Note))
        {
            var moment = score.At(FilmParts.LeadIn.Value + note.StartTime.Value + 1e-9);
            var (system, x) = FilmParts.Head(sheet.Part, note.NoteIds[0]);
            Assert.Equal(system, score.Visits[moment.Visit].System);
            Assert.Equal(x, moment.CursorX, 0.01);
        }
    }

    [Fact]
    public void A_repeat_jumps_back_to_its_first_system()
    {
        var systems = FilmParts.Score(FilmParts.Melody("evening-ferry")).Visits.Select(v => v.System).ToList();
        Assert.Equal([0, 1, 0, 1, 2, 3], systems[..6]);
    }

    [Fact]
    public void A_repeat_within_one_system_stays_in_its_place_on_the_screen()
    {
        var score = FilmParts.Score(FilmParts.Planned("[: Bb3:4 C4:4 D4:2 | F3:1 :] Bb3:1 | F3:1 |"));
        Assert.Equal([(0, 0), (0, 0)], score.Visits.Select(v => (v.System, v.Slot)));
        Assert.Single(score.Turns);
    }

    [Theory]
    [MemberData(nameof(Melodies))]
    public void Every_system_stands_in_its_place_before_the_cursor_comes_to_it(string melody)
    {
        var score = FilmParts.Score(FilmParts.Melody(melody));
        for (var i = 0; i < score.Visits.Length; i++)
        {
            var visit = score.Visits[i];
            var turn = score.Turns.Last(t => t.Slot == visit.Slot && t.Time <= visit.Start);
            Assert.Equal(visit.System, turn.System);
            Assert.True(i == 0 || visit.Start - turn.Time >= 0.5, $"system {visit.System} comes {visit.Start - turn.Time:0.00} s ahead");
        }
    }

    [Theory]
    [MemberData(nameof(Melodies))]
    public void In_the_middle_of_every_note_the_slide_rests_where_the_plan_wants_it(string melody)
    {
        var sheet = FilmParts.Melody(melody);
        var score = FilmParts.Score(sheet);
        foreach (var note in sheet.Plan.Notes.Where(n => n.Setting is not null))
        {
            var moment = score.At(FilmParts.LeadIn.Value + note.Note.StartTime.Value + (note.Note.Duration.Value / 2) - 1e-6);
            Assert.Equal(note.Setting!.Travel.Value, moment.Travel, 1e-6);
            Assert.Equal(note.Setting.Valves, moment.Setting.Valves);
        }
    }

    [Fact]
    public void Half_way_through_its_time_the_arm_is_half_way()
    {
        var sheet = FilmParts.Melody("evening-ferry");
        var score = FilmParts.Score(sheet);
        var change = sheet.Plan.Changes.First(c => c is { MoveTime.Value: > 0 } && c.MoveTime.Value < c.TimeAvailable.Value / 2);
        var (from, to) = (sheet.Plan.Notes[change.FromNote], sheet.Plan.Notes[change.ToNote]);
        var middle = FilmParts.LeadIn.Value + to.Note.StartTime.Value - (change.MoveTime.Value / 2);
        Assert.Equal((from.Setting!.Travel.Value + to.Setting!.Travel.Value) / 2, score.At(middle).Travel, 1e-6);
    }

    [Theory]
    [MemberData(nameof(Melodies))]
    public void Every_change_is_lit_before_it_comes_and_no_two_at_once(string melody)
    {
        var sheet = FilmParts.Melody(melody);
        var score = FilmParts.Score(sheet);
        Assert.Equal(sheet.Plan.Changes.Length, score.Changes.Length);
        foreach (var change in sheet.Plan.Changes)
        {
            var at = FilmParts.LeadIn.Value + sheet.Plan.Notes[change.ToNote].Note.StartTime.Value;
            var early = 0.5 * Math.Min(0.9, change.TimeAvailable.Value);
            foreach (var t in (double[])[at - early, at - 0.001, at + 0.001])
            {
                var moment = score.At(t);
                Assert.True(moment.IsLit && moment.Change == change.Index, $"change {change.Index} at {t - at:0.000} s: {moment.Change}, {moment.IsLit}");
            }
        }
    }

    [Fact]
    public void Long_before_it_comes_a_change_is_shown_without_light()
    {
        var score = FilmParts.Score(FilmParts.Planned("tempo=@60 Bb3:1( | C4:1) |"));
        Assert.Equal((0, false), (score.At(3).Change, score.At(3).IsLit));
        Assert.Equal((0, true), (score.At(5.2).Change, score.At(5.2).IsLit));
        Assert.Equal(-1, score.At(8).Change);
    }

    [Fact]
    public void Rounds_at_other_tempos_lie_one_after_another_on_the_films_time()
    {
        var sheet = FilmParts.Planned("tempo=@60 Bb3:4 C4:4 D4:4 Eb4:4 | F4:4 Eb4:4 D4:4 C4:4 | Bb3:1 |");
        var slow = new SoundingPassage(sheet.Plan, new(1), 0.5) { LastNote = 3 };
        var phrase = new SoundingPassage(sheet.Plan, new(6)) { FirstNote = 4, LastNote = 7 };
        var score = FilmParts.Score(sheet, slow, phrase);
        Assert.Equal([1.0, 10.0], score.Visits.Select(v => v.Start));
        Assert.Equal(9, score.Visits[0].End, 1e-9);
        Assert.Equal(FilmParts.Head(sheet.Part, "n1-3").X, score.At(5).CursorX, 0.01);
        Assert.Equal(FilmParts.Head(sheet.Part, "n2-2").X, score.At(11).CursorX, 0.01);
        Assert.Equal((30, 60), (score.Bars[0].BeatsPerMinute, score.Bars[^1].BeatsPerMinute));
        Assert.Equal(6, score.Changes.Length);
    }

    [Fact]
    public void A_tied_note_leads_the_cursor_to_each_of_its_heads()
    {
        var sheet = FilmParts.Planned("tempo=@60 Bb3:4 C4:2.~ | C4:2 D4:2 |");
        Assert.Equal(FilmParts.Head(sheet.Part, "n2-1").X, FilmParts.Score(sheet).At(6).CursorX, 0.01);
    }

    [Fact]
    public void A_bar_of_rest_is_entered_in_time()
    {
        var sheet = FilmParts.Planned("tempo=@60 Bb3:1 | R | R | R | R | D4:1 |");
        var score = FilmParts.Score(sheet);
        Assert.InRange(score.At(6.01).CursorX, FilmParts.BarWidth, FilmParts.BarWidth + 1000);
        Assert.Equal(1, score.Visits[score.At(18.5).Visit].System);
    }

    [Fact]
    public void The_thread_is_parted_where_a_note_is_tongued_or_a_breath_is_taken_and_nowhere_else()
    {
        var sheet = FilmParts.Planned("tempo=@60 Bb3:4( C4:4) D4:4 r:4 | F4:4( Eb4:4 D4:4 C4:4) |");
        Assert.Equal(
            [(FilmParts.Head(sheet.Part, "n1-3").X, ChangeKind.Tongued), (FilmParts.Head(sheet.Part, "n2-1").X, ChangeKind.Breath)],
            FilmParts.Score(sheet).Visits.SelectMany(v => v.Seams).Select(s => (s.X, s.Kind)));
    }

    [Fact]
    public void Bars_in_threes_are_counted_in_dotted_quarters()
    {
        var bar = FilmParts.Score(FilmParts.Planned("meter=6/8 tempo=@66@4. D4:4. F3:4. |")).Bars[0];
        Assert.Equal(("1", 66.0, BeatNote.DottedQuarter), (bar.Bar, bar.BeatsPerMinute, bar.Beat));
    }

    [Fact]
    public void Bars_over_two_are_counted_in_halves()
    {
        var bar = FilmParts.Score(FilmParts.Planned("meter=2/2 tempo=@132 D4:2 F3:2 |")).Bars[0];
        Assert.Equal((66.0, BeatNote.Half), (bar.BeatsPerMinute, bar.Beat));
        Assert.Equal((132.0, BeatNote.Quarter), (FilmParts.Score(FilmParts.Planned("meter=4/4 tempo=@132 D4:2 F3:2 |")).Bars[0] is var b ? b.BeatsPerMinute : 0, b.Beat));
    }

    [Fact]
    public void A_glissando_is_seen_over_half_of_its_note()
    {
        var sheet = FilmParts.Planned("tempo=@60 F3:2> D3:2 |");
        Assert.Equal(ChangeKind.Glissando, Assert.Single(sheet.Plan.Changes).Kind);
        var (score, there) = (FilmParts.Score(sheet), sheet.Plan.Notes.Select(n => n.Setting!.Travel.Value).ToArray());
        Assert.Equal([there[0], (there[0] + there[1]) / 2, there[1]], ((double[])[3, 3.5, 4]).Select(t => Math.Round(score.At(t).Travel, 9)), (a, b) => Math.Abs(a - b) < 1e-6);
    }

    [Fact]
    public void A_part_in_which_nothing_can_be_played_has_no_film()
    {
        var sheet = FilmParts.Planned("C7:1 | D7:1 |");
        Assert.Null(FilmScore.Compose(sheet.Part, FilmParts.Places(sheet.Part), [new(sheet.Plan, Seconds.Zero)]));
    }
}
