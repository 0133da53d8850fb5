using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Core.Sound.PlayAlong;
using Seamwright.Core.Units;
using Seamwright.Tests.Sound.PlayAlong;
using static Seamwright.Tests.Scores.Files;

namespace Seamwright.Tests.Sound;

public class WrittenDynamicsTests
{
    private const double Rate = 48_000;

    [Theory]
    [InlineData("ppp", -16)]
    [InlineData("pp", -12)]
    [InlineData("p", -8)]
    [InlineData("mp", -4)]
    [InlineData("mf", 0)]
    [InlineData("f", 4.5)]
    [InlineData("ff", 9)]
    [InlineData("fff", 13.5)]
    [InlineData("pppppp", -16)]
    [InlineData("ffffff", 13.5)]
    public void A_mark_has_its_level(string mark, double level) => Assert.Equal(level, WrittenDynamics.Of(mark));

    [Fact]
    public void Accents_and_words_of_ones_own_change_no_level() =>
        Assert.All((string[])["sf", "sfz", "rf", "fz", "", "forte"], m => Assert.Null(WrittenDynamics.Of(m)));

    [Fact]
    public void What_is_played_is_as_loud_as_it_is_written_and_brighter_the_louder()
    {
        var plan = Parts.Of(Parts.Written("4/4", Mark("pp") + N("F3", 48), Mark("mf") + N("F3", 48), Mark("ff") + N("F3", 48)));
        var schedule = PlayAlongMaker.LayOut([plan], new PlayAlongSettings { Turns = Turns.ExampleOnly, Click = ClickUse.None }).Value;
        var sound = Parts.All(PlayAlongMaker.Sound(schedule));
        double[] levels = [.. Enumerable.Range(0, 3).Select(i => SoundProbe.LevelDb(sound, Rate, (4 * i) + 2, 2))];
        Assert.Equal(-32, levels[0], 0.5);
        Assert.Equal(-20, levels[1], 0.5);
        Assert.Equal(-11, levels[2], 0.5);
        double[] bright = [.. Enumerable.Range(0, 3).Select(i => Brightness(sound.AsSpan((int)(((4 * i) + 1) * Rate), (int)(2 * Rate))))];
        Assert.True(bright[1] > 2 * bright[0] && bright[2] > 1.3 * bright[1], string.Join(" ", bright));
    }

    [Fact]
    public void Under_a_hairpin_notes_go_by_a_straight_line_to_the_mark_that_follows()
    {
        var levels = Levels(Mark("p") + Wedge("crescendo") + N("F3", 12) + N("G3", 12) + N("F3", 12) + N("G3", 12), Wedge("stop") + Mark("ff") + N("F3", 48));
        Assert.Equal([-8 + (17 / 8.0), -8 + (3 * 17 / 8.0), -8 + (5 * 17 / 8.0), -8 + (7 * 17 / 8.0), 9], levels, (a, b) => Math.Abs(a - b) < 1e-9);
    }

    [Fact]
    public void A_hairpin_without_a_mark_after_it_goes_one_step_and_stays_there()
    {
        Assert.Equal([2, 4, 4], Levels(Mark("mf") + Wedge("crescendo") + N("F3", 48), Wedge("stop") + N("G3", 24) + N("F3", 24)), (a, b) => Math.Abs(a - b) < 1e-9);
        Assert.Equal([-2, -4, -4], Levels(Mark("mf") + Wedge("diminuendo") + N("F3", 48), Wedge("stop") + Mark("f").Replace("<f/>", "<sfz/>") + N("G3", 24) + N("F3", 24)), (a, b) => Math.Abs(a - b) < 1e-9);
    }

    [Fact]
    public void A_repeat_is_as_loud_as_the_first_time()
    {
        var end = "<barline location=\"right\"><repeat direction=\"backward\"/></barline>";
        Assert.Equal([-8, 4.5, -8, 4.5], Levels(Mark("p") + N("F3", 48), Mark("f") + N("G3", 48) + end), (a, b) => Math.Abs(a - b) < 1e-9);
        Assert.Equal([2, 4, 2, 4], Levels(Mark("mf") + Wedge("crescendo") + N("F3", 48), Wedge("stop") + N("G3", 48) + end), (a, b) => Math.Abs(a - b) < 1e-9);
    }

    [Fact]
    public void A_long_note_swells_under_its_hairpin_and_grows_brighter()
    {
        var sound = Sound(Mark("mf") + Wedge("crescendo") + N("F3", 48), Wedge("stop") + Mark("ff") + N("G3", 48));
        double[] times = [0.5, 1.5, 2.5, 3.5];
        foreach (var t in times) Assert.Equal(-20 + (9 * t / 4), SoundProbe.LevelDb(sound, Rate, t, 0.1), 1.0);
        Assert.Equal(-11, SoundProbe.LevelDb(sound, Rate, 6, 1), 0.5);
        double[] bright = [.. times.Select(t => Brightness(sound.AsSpan((int)((t - 0.25) * Rate), (int)(0.5 * Rate))))];
        for (var i = 1; i < bright.Length; i++) Assert.True(bright[i] > 1.1 * bright[i - 1], string.Join(" ", bright));
    }

    [Fact]
    public void A_note_swells_and_dies_down_again_under_two_hairpins()
    {
        var sound = Sound(Mark("mf") + Wedge("crescendo") + "<direction><direction-type><wedge type=\"diminuendo\"/></direction-type><offset>24</offset></direction>" + N("F3", 48), Wedge("stop") + N("G3", 48));
        Assert.Equal([-19, -17, -17, -19, -20], ((double[])[0.5, 1.5, 2.5, 3.5, 6]).Select(t => SoundProbe.LevelDb(sound, Rate, t, 0.1)), (a, b) => Math.Abs(a - b) < 1);
    }

    [Fact]
    public void Under_a_hairpin_no_note_begins_louder_than_the_one_before_it_ended()
    {
        var plan = Parts.Of(Parts.Written("4/4", Mark("p") + Wedge("crescendo") + N("F3", 24) + N("G3", 24), Wedge("stop") + Mark("f") + N("F3", 48)));
        var lines = WrittenDynamics.Of(plan);
        for (var i = 1; i < lines.Length; i++)
            Assert.Equal(lines[i].At(Seconds.Zero).Value, lines[i - 1].At(plan.Notes[i - 1].Note.Duration).Value, 1e-9);
    }

    [Fact]
    public void A_forte_piano_begins_loud_and_is_soft_within_half_a_second()
    {
        var sound = Sound(Mark("fp") + N("F3", 48), N("G3", 48));
        Assert.Equal(-15.5, SoundProbe.LevelDb(sound, Rate, 0.11, 0.05), 1.0);
        Assert.Equal([-28, -28, -28], ((double[])[0.6, 3, 6]).Select(t => SoundProbe.LevelDb(sound, Rate, t, 0.2)), (a, b) => Math.Abs(a - b) < 0.5);
    }

    [Fact]
    public void Each_forte_piano_begins_loud_however_many_follow_one_another()
    {
        var (lines, _) = Lines(Mark("fp") + N("F3", 24) + Mark("fp") + N("G3", 24), N("F3", 48));
        Assert.All(lines[..2], l => Assert.Equal((4.5, -8), (l.At(new(0.1)).Value, l.At(new(1)).Value)));
        Assert.Equal(-8, lines[2].At(Seconds.Zero).Value);
    }

    [Fact]
    public void A_mark_over_a_tied_note_counts_from_there_on()
    {
        var (lines, plan) = Lines(Mark("p") + N("F3", 48, Ties("start")), Mark("f") + N("F3", 48, Ties("stop")), N("G3", 48));
        Assert.Equal(2, plan.Notes.Length);
        Assert.Equal([-8, -8, 4.5, 4.5], ((double[])[0, 3.99, 4.3, 7.9]).Select(t => lines[0].At(new(t)).Value));
        Assert.Equal(4.5, lines[1].At(Seconds.Zero).Value);
    }

    [Fact]
    public void A_forte_piano_over_a_tied_note_is_loud_there_and_soft_again()
    {
        var (lines, _) = Lines(Mark("mf") + N("F3", 48, Ties("start")), Mark("fp") + N("F3", 48, Ties("stop")), N("G3", 48));
        Assert.Equal([0, 4.5, -8], ((double[])[3.99, 4.1, 4.5]).Select(t => lines[0].At(new(t)).Value));
        Assert.Equal(-8, lines[1].At(new(0.1)).Value);
    }

    [Fact]
    public void A_swell_over_a_tie_goes_to_the_mark_that_stands_at_its_end()
    {
        var (lines, _) = Lines(Mark("p") + Wedge("crescendo") + N("F3", 48, Ties("start")), Wedge("stop") + Mark("ff") + N("F3", 48, Ties("stop")), N("G3", 48));
        Assert.Equal([-8, 0.5, 9, 9], ((double[])[0, 2, 4, 7]).Select(t => lines[0].At(new(t)).Value), (a, b) => Math.Abs(a - b) < 1e-9);
    }

    [Fact]
    public void A_mark_that_is_written_again_after_a_swell_holds_again()
    {
        var (lines, _) = Lines(Mark("mf") + Wedge("crescendo") + N("F3", 48), Wedge("stop") + Mark("mf") + N("G3", 48));
        Assert.Equal([0, 4, 0], ((double[])[lines[0].At(Seconds.Zero).Value, lines[0].At(new(4)).Value, lines[1].At(Seconds.Zero).Value]));
    }

    [Fact]
    public void Back_on_a_repeat_no_forte_piano_is_played_that_is_not_written_there()
    {
        var end = "<barline location=\"right\"><repeat direction=\"backward\"/></barline>";
        var (lines, plan) = Lines(Mark("fp") + N("F3", 48), "<barline location=\"left\"><repeat direction=\"forward\"/></barline>" + N("G3", 24) + Mark("mf") + N("F3", 24) + end);
        Assert.Equal(5, plan.Notes.Length);
        Assert.Equal([-8, -8], ((double[])[0.05, 1]).Select(t => lines[3].At(new(t)).Value));
    }

    [Theory]
    [InlineData("fp", -8)]
    [InlineData("sfp", -8)]
    [InlineData("sfzp", -8)]
    [InlineData("sfpp", -12)]
    [InlineData("ffpp", -12)]
    public void A_forte_piano_of_any_kind_leaves_its_piano(string mark, double level) => Assert.Equal(level, WrittenDynamics.Of(mark));

    [Fact]
    public void A_phrase_is_as_loud_as_a_hairpin_before_it_left_the_line()
    {
        // Ten bars: the hairpin of the first one has no mark after it, and no phrase but the first holds it.
        var part = Parts.Written("4/4", [Mark("mf") + Wedge("crescendo") + N("F3", 48), Wedge("stop") + N("G3", 48), .. Enumerable.Repeat(N("F3", 48), 8)]);
        var schedule = Parts.Schedule(part, new PlayAlongSettings { Turns = Turns.ExampleThenYou, Click = ClickUse.None });
        var last = schedule.Sections.Last(s => s.Kind == SectionKind.Example);
        Assert.True(last.Phrase!.FirstNote > 1);
        Assert.Equal(-16, SoundProbe.LevelDb(Parts.All(PlayAlongMaker.Sound(schedule)), Rate, (last.Start / Rate) + 2, 2), 0.5);
    }

    private static (LevelLine[] Lines, Plan Plan) Lines(params string[] measures)
    {
        var plan = Parts.Of(Parts.Written("4/4", measures));
        return ([.. WrittenDynamics.Of(plan)], plan);
    }

    private static IEnumerable<double> Levels(params string[] measures)
    {
        var plan = Parts.Of(Parts.Written("4/4", measures));
        return WrittenDynamics.Of(plan).Select((l, i) => l.At(0.5 * plan.Notes[i].Note.Duration).Value);
    }

    private static float[] Sound(params string[] measures) =>
        Parts.All(PlayAlongMaker.Sound(Parts.Schedule(Parts.Written("4/4", measures), new PlayAlongSettings { Turns = Turns.ExampleOnly, Click = ClickUse.None })));

    // What lies in the eighth to twelfth harmonic of F3, against the first six.
    private static double Brightness(ReadOnlySpan<float> note)
    {
        var (low, high) = (0.0, 0.0);
        for (var k = 1; k <= 12; k++)
        {
            var a = Parts.Amplitude(note, Rate, k * 174.614);
            if (k <= 6) low += a * a;
            else if (k >= 8) high += a * a;
        }

        return high / low;
    }

    private static string Ties(string type) => $"<tie type=\"{type}\"/>";

    private static string Mark(string mark) => $"<direction><direction-type><dynamics><{mark}/></dynamics></direction-type></direction>";

    private static string Wedge(string type) => $"<direction><direction-type><wedge type=\"{type}\"/></direction-type></direction>";
}
