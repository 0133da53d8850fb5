using Seamwright.Core.Sound;
using Seamwright.Core.Sound.PlayAlong;
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
        double[] bright = [.. Enumerable.Range(0, 3).Select(i => Share(sound.AsSpan((int)(((4 * i) + 1) * Rate), (int)(2 * Rate))))];
        Assert.True(bright[1] > 2 * bright[0] && bright[2] > 1.3 * bright[1], string.Join(" ", bright));

        // What lies in the eighth to twelfth harmonic, against the first six.
        static double Share(ReadOnlySpan<float> note)
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

    private static IEnumerable<double> Levels(params string[] measures) => WrittenDynamics.Of(Parts.Of(Parts.Written("4/4", measures))).Select(l => l.Value);

    private static string Mark(string mark) => $"<direction><direction-type><dynamics><{mark}/></dynamics></direction-type></direction>";

    private static string Wedge(string type) => $"<direction><direction-type><wedge type=\"{type}\"/></direction-type></direction>";
}
