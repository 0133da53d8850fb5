using Seamwright.Core.Planning;
using Seamwright.Engraving;
using Seamwright.Engraving.Pictures;
using Seamwright.Film;
using Seamwright.Film.Score;
using Seamwright.Film.Screen;
using Seamwright.Tests.Engraving;

namespace Seamwright.Tests.Film;

public class StandScreenTests
{
    private const int Width = ScreenLayout.Width, Height = ScreenLayout.Height;

    private static FilmRequest Request(PlannedSheet sheet) => new(sheet.Part, sheet.Plan, FilmParts.Sound(sheet), new SheetOptions());

    private static (StandScreen Screen, FilmScore Score) Screen(PlannedSheet sheet)
    {
        var (maker, request) = (new FilmMaker(SharedEngraver.Instance), Request(sheet));
        return (maker.Screen(request)!, FilmScore.Compose(sheet.Part, [.. maker.Systems(request).Select(s => s.Places)], request.Sound.Passages)!);
    }

    [Fact]
    public void The_thread_ends_under_the_note_that_begins()
    {
        var sheet = FilmParts.Melody("evening-ferry");
        var (screen, score) = Screen(sheet);
        foreach (var note in sheet.Plan.Notes)
        {
            var time = FilmParts.LeadIn.Value + note.Note.StartTime.Value + 1e-6;
            var frame = screen.Frame(time);
            var moment = score.At(time);
            var (needle, top) = (screen.Music.NeedleAt(moment.CursorX), screen.Music.ThreadTop(score.Visits[moment.Visit]));
            Near(Light(ScreenLayout.Thread), frame[((top + 4) * Width) + needle]);
            Near(Light(ScreenLayout.Paper), frame[((top + 4) * Width) + needle + 8]);
        }
    }

    [Fact]
    public void The_hand_stands_on_the_scale_where_the_slide_is()
    {
        var sheet = FilmParts.Melody("evening-ferry");
        var (screen, _) = Screen(sheet);
        foreach (var note in sheet.Plan.Notes)
        {
            var frame = screen.Frame(FilmParts.LeadIn.Value + note.Note.StartTime.Value + (note.Note.Duration.Value / 2));
            var hand = ScreenLayout.Slide.Left + screen.Slide.HandAt(note.Setting!.Travel.Value);
            var between = (ScreenLayout.Slide.Top + 116) * Width;
            Near(Light(ScreenLayout.Dark), frame[between + hand]);
            Near(Light(ScreenLayout.Paper), frame[between + hand + 14]);
        }
    }

    [Theory]
    [InlineData(60, "= 60")]
    [InlineData(62.5, "= 62.5")]
    [InlineData(49.5 * 1.5, "= 74.25")]
    [InlineData(190 / 3.0, "= 63.33")]
    public void The_head_tells_every_tempo_as_it_was_ordered(double tempo, string told) => Assert.Equal(told, HeadLine.Tempo(new BarStart(0, "1", tempo, BeatNote.Quarter)));

    [Fact]
    public void Every_slide_fits_the_screen_and_fills_it()
    {
        foreach (var id in Core.Instruments.Catalogue.Ids)
        {
            var horn = Core.Instruments.Catalogue.Find(id)!;
            var slide = new SlidePicture(horn, [], new Draughtsman(SharedEngraver.Fonts));

            // Fully out, the bow is as far from the hand as the hand is from its first place.
            Assert.InRange((2 * slide.HandAt(horn.FurthestTravel.Value)) - slide.HandAt(0), 1150, ScreenLayout.Slide.Width - 40);
            Assert.InRange(slide.HandAt(0), 100, 400);
        }
    }

    [Fact]
    public void Frames_drawn_from_frame_to_frame_are_those_drawn_anew()
    {
        var sheet = FilmParts.Melody("evening-ferry");
        var running = Screen(sheet).Screen;
        var reference = 0.0;
        for (var i = 0; i < 900; i++)
        {
            var frame = running.Frame(i / 30.0);
            if (i % 150 != 149) continue;
            var anew = Screen(sheet).Screen;
            anew.Frame((i / 30.0) - 5);
            Assert.True(anew.Frame(i / 30.0).AsSpan().SequenceEqual(frame), $"frame {i} (after {reference:0.0} s)");
            reference = i / 30.0;
        }
    }

    [Fact]
    public void A_frame_without_a_new_word_allocates_nothing()
    {
        var sheet = FilmParts.Planned("tempo=@60 Bb3:4( C4:4 Bb3:4 C4:4 | Bb3:4 C4:4 Bb3:4 C4:4 | Bb3:1) |");
        var (warm, _) = Screen(sheet);
        var (screen, _) = Screen(sheet);
        for (var i = 0; i < 300; i++) warm.Frame(i / 30.0);
        for (var i = 0; i < 240; i++) screen.Frame(i / 30.0);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var i = 240; i < 290; i++) screen.Frame(i / 30.0);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    [Fact]
    public void The_mark_of_the_change_that_comes_lies_on_light()
    {
        var sheet = FilmParts.Melody("evening-ferry");
        var (screen, score) = Screen(sheet);
        var systems = new FilmMaker(SharedEngraver.Instance).Systems(Request(sheet));
        var change = score.Changes.First(c => c.Change.Kind == ChangeKind.NaturalSlur);
        var box = systems[0].Places.Marks[change.NoteId];
        var at = ((int)screen.Music.YOf(0, 0, box.Top) - 6, (int)screen.Music.XOf(box.Left) - 4);
        Near(Light(ScreenLayout.Paper), screen.Frame(change.On - 0.05)[(at.Item1 * Width) + at.Item2]);
        Assert.True(screen.Frame(change.On + 0.01)[(at.Item1 * Width) + at.Item2] < Light(ScreenLayout.Paper) - 15);
    }

    [Fact]
    public void No_word_runs_over_the_edge_of_its_card()
    {
        var sheet = FilmParts.Melody("crooked-lane");
        var (screen, score) = Screen(sheet);
        var hurried = score.Changes.First(c => !c.Change.Plausible);
        var frame = screen.Frame(hurried.On + 0.01);
        for (var y = ScreenLayout.Card.Top + 4; y < Height - 48; y++)
        {
            for (var x = ScreenLayout.Card.Right - 34; x < ScreenLayout.Card.Right; x++)
                Assert.True(frame[(y * Width) + x] > Light(ScreenLayout.Lit) - 3, $"ink at {x}, {y}");
        }
    }

    [Fact]
    public void A_valve_and_its_flat_position_are_one_word_on_the_plate()
    {
        var sheet = FilmParts.Melody("crooked-lane");
        var (screen, _) = Screen(sheet);
        var note = sheet.Plan.Notes.First(n => n.Setting!.Label.Contains(' '));
        var frame = screen.Frame(FilmParts.LeadIn.Value + note.Note.StartTime.Value + (note.Note.Duration.Value / 2));
        var hand = ScreenLayout.Slide.Left + screen.Slide.HandAt(note.Setting!.Travel.Value);

        // Columns with ink within the plate's frame.
        var inked = Enumerable.Range(hand - 60, 120).Where(x => Enumerable.Range(ScreenLayout.Slide.Top + 18, 36).Any(y => frame[(y * Width) + x] < 120)).ToList();
        var within = inked.Where(x => Enumerable.Range(ScreenLayout.Slide.Top + 18, 36).Any(y => frame[(y * Width) + x] > 200)).ToList();
        Assert.True(within.Count > 30);
        Assert.InRange(within.Zip(within.Skip(1), (a, b) => b - a).Max(), 1, 8);
    }

    [Fact]
    public void Two_systems_never_reach_into_one_another()
    {
        foreach (var text in TestParts.Texts)
        {
            var part = PartBuilder.Parse("Trombone", text.Value);
            var plan = TestPlans.For(part);
            var systems = new FilmMaker(SharedEngraver.Instance).Systems(new FilmRequest(part, plan, new FilmSound(new Core.Sound.SamplesFeed(new float[1], new(48000)), new(1), []), new SheetOptions()));
            var music = new MusicSlots(systems);
            Assert.All(Enumerable.Range(0, systems.Length), i =>
            {
                Assert.True(music.YOf(i, 0, systems[i].Places.Ink.Bottom) <= ScreenLayout.Slot(0).Bottom - ScreenLayout.ThreadRoom, text.Key);
                Assert.True(music.XOf(systems[i].Places.Staff.Right) <= Width - ScreenLayout.Side + 1, text.Key);
            });
        }
    }

    [Fact]
    public void Video_takes_white_black_and_colours_as_the_standard_says()
    {
        var canvas = new Canvas(4, 2);
        var frame = new VideoFrame(4, 2);
        foreach (var (ink, y, cb, cr) in ((Ink, int, int, int)[])[(new(255, 255, 255), 235, 128, 128), (new(0, 0, 0), 16, 128, 128), (new(255, 0, 0), 63, 102, 240), (new(0, 0, 255), 32, 240, 118)])
        {
            canvas.Fill(canvas.Whole, ink);
            frame.Take(canvas, canvas.Whole);
            Assert.Equal([y, cb, cr], ((int[])[frame.Bytes[5], frame.Bytes[8], frame.Bytes[10]]));
        }

        Assert.Equal(Width * Height * 3 / 2, new VideoFrame(Width, Height).Bytes.Length);
    }

    internal static void Near(int expected, byte actual, int tolerance = 2) => Assert.InRange(actual, expected - tolerance, expected + tolerance);

    internal static int Light(Ink ink) => (int)Math.Round(16 + (0.1826 * ink.Red) + (0.6142 * ink.Green) + (0.062 * ink.Blue));
}
