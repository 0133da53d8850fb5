using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Listening;

public class TouchWatchTests
{
    private const double Hop = 0.005;

    [Theory]
    [InlineData(9, 0.04)]
    [InlineData(19, 0.08)]
    [InlineData(45, 0.06)]
    public void A_dip_of_a_tone_that_goes_on_is_one_touch_with_its_depth_and_moment(double depth, double length)
    {
        var touch = Assert.Single(Watch(t => Math.Abs(t - 1) < length / 2 ? -20 - depth : -20));
        Assert.Equal(depth, touch.Depth, 0.2);
        Assert.InRange(touch.At, 1 - (length / 2) - Hop, 1 + (length / 2) + Hop);
        Assert.Equal(length * 1000, touch.Milliseconds, 10.0);
        Assert.Equal(depth > 20, touch.Stopped);
    }

    [Fact]
    public void Neither_an_end_nor_a_swell_nor_a_tremble_is_a_touch()
    {
        Assert.Empty(Watch(t => t is > 1 and < 1.6 ? -65 : -20));
        Assert.Empty(Watch(t => -30 + (5 * t)));
        Assert.Empty(Watch(t => -20 + Math.Sin(2 * Math.PI * 6 * t)));
    }

    [Theory]
    [InlineData(2, false)]
    [InlineData(0.9, false)]
    [InlineData(0.3, true)] // vibrato, or a tone that bends under the tongue
    [InlineData(0, true)]
    public void A_dip_between_two_notes_is_no_touch_of_one(double semitones, bool counts)
    {
        var watch = new TouchWatch();
        var touches = Enumerable.Range(0, 500).Select(i => i * Hop).Select(t => watch.Next(t, new Frame(
            Math.Abs(t - 1) < 0.015 ? null : new Hertz(233 * Math.Pow(2, t > 1 ? semitones / 12 : 0)), new(Math.Abs(t - 1) < 0.03 ? -32 : -20), 0.95f))).OfType<LiveTouch>();
        Assert.Equal(counts ? 1 : 0, touches.Count());
    }

    [Fact]
    public void A_slurred_scale_has_no_touches_of_a_tone()
    {
        var plan = Planner.Plan(Planning.TestLines.Of("Bb3~ C4~ D4~ Eb4~ F4~ Eb4~ D4~ C4~ Bb3", 72), Catalogue.Default).Value;
        var sound = Voice.Render(plan, Playing.Clean(plan));
        var (ear, watch, shown) = (new LiveEar(sound.Rate), new TouchWatch(), new List<LiveFrame>());
        ear.Push(sound.Samples.Span, shown);
        Assert.Empty(shown.Select(f => watch.Next(f.Time.Value, f.Frame)).OfType<LiveTouch>());
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
