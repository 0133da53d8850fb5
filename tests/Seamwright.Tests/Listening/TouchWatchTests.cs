using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Scores;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Listening;

public class TouchWatchTests
{
    private const double Hop = 0.005;

    [Theory]
    [InlineData(9, 0.04)]
    [InlineData(20, 0.08)]
    public void A_dip_of_a_tone_that_goes_on_is_one_touch_with_its_depth_and_moment(double depth, double length)
    {
        var touch = Assert.Single(Watch(t => Math.Abs(t - 1) < length / 2 ? -20 - depth : -20));
        Assert.Equal(depth, touch.Depth, 0.2);
        Assert.InRange(touch.At, 1 - (length / 2) - Hop, 1 + (length / 2) + Hop);
        Assert.Equal(length * 1000, touch.Milliseconds, 10.0);
    }

    [Fact]
    public void Neither_an_end_nor_a_swell_nor_a_tremble_is_a_touch()
    {
        Assert.Empty(Watch(t => t is > 1 and < 1.6 ? -65 : -20));
        Assert.Empty(Watch(t => -30 + (5 * t)));
        Assert.Empty(Watch(t => -20 + Math.Sin(2 * Math.PI * 6 * t)));
    }

    [Fact]
    public void Touches_of_a_long_tone_are_counted_while_it_sounds()
    {
        var exercise = ExerciseMaker.Make(new ExerciseOrder { Kind = "one-note", Touches = [2] }, Pupil.Of(Catalogue.Default, level: 3)).Value.Exercises[0];
        var asked = exercise.Plan.Changes.Count(c => c.Intent == ChangeIntent.TouchedTone);
        var sound = Voice.Render(exercise.Plan, Playing.Clean(exercise.Plan));
        var (ear, watch, shown) = (new LiveEar(sound.Rate), new TouchWatch(), new List<LiveFrame>());
        ear.Push(sound.Samples.Span, shown);
        Assert.Equal(asked, shown.Count(f => watch.Next(f.Time.Value, f.Frame) is not null));
    }

    private static List<LiveTouch> Watch(Func<double, double> level)
    {
        var watch = new TouchWatch();
        return [.. Enumerable.Range(0, 500).Select(i => i * Hop).Select(t => watch.Next(t, new Frame(new Hertz(233), new(level(t)), 0.95f))).OfType<LiveTouch>()];
    }
}
