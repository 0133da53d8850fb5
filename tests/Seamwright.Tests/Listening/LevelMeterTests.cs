using Seamwright.Core.Listening;

namespace Seamwright.Tests.Listening;

/// <summary>How long a change's level stays down, on curves drawn by hand: both notes at −20 dB, one reading a millisecond.</summary>
public class LevelMeterTests
{
    private const double Note = -20;
    private const double Window = 0.013;

    [Fact] // The second note itself sinks to 9.5 dB down for 150 ms, long after the touch.
    public void What_a_note_does_elsewhere_is_no_part_of_the_touch()
    {
        var heard = Measure(t => Math.Min(Dip(t, 0.3, 0.1, 12), t is > 0.45 and < 0.6 ? -9.5 : 0));
        Assert.InRange(heard.Below10!.Value.Milliseconds, 20, 35);
        Assert.InRange(heard.Below10Interval!.Value.High.Milliseconds, 30, 60);
    }

    [Fact]
    public void Silence_elsewhere_is_no_part_of_the_gap()
    {
        var heard = Measure(t => Math.Min(Dip(t, 0.3, 0.1, 40), t is > 0.5 and < 0.6 ? -25 : 0));
        Assert.InRange(heard.EarGap!.Value.Milliseconds, 35, 60);
        Assert.InRange(heard.EarGapInterval!.Value.High.Milliseconds, 35, 65);
    }

    // A raised cosine of 100 ms spends 2·acos(20/d − 1)/2π of them more than 10 dB down: 0 at 10 dB, 27 at 12 dB, 50 at 20 dB.
    [Theory]
    [InlineData(10.2)]
    [InlineData(12)]
    [InlineData(16)]
    public void The_time_down_is_in_doubt_as_far_as_level_and_depth_are(double depth)
    {
        var heard = Measure(t => Dip(t, 0.3, 0.1, depth));
        var (low, high) = heard.Below10Interval!.Value;
        Assert.InRange(low.Milliseconds, TimeDown(depth - 2.5) - 4, TimeDown(depth - 0.9) + 2);
        Assert.InRange(high.Milliseconds, TimeDown(depth + 0.9) - 2, TimeDown(depth + 2.5) + 6);
        Assert.InRange(heard.Below10!.Value.Milliseconds, low.Milliseconds, high.Milliseconds);
    }

    private static double TimeDown(double depth) => depth <= 10 ? 0 : 100 * Math.Acos((20 / depth) - 1) / Math.PI;

    private static double Dip(double t, double centre, double length, double depth) =>
        Math.Abs(t - centre) < length / 2 ? -depth * (1 + Math.Cos(2 * Math.PI * (t - centre) / length)) / 2 : 0;

    private static HeardChange Measure(Func<double, double> level, Echo? echo = null)
    {
        var curve = new ChangeCurve(0, 700);
        for (var i = 0; i < curve.Count; i++)
        {
            (curve.Db[i], curve.Window[i]) = (Note + level(curve.Time(i)), Window);
            (curve.Hz[i], curve.Strength[i]) = (233, 1);
        }

        double[] times = [.. Enumerable.Range(0, curve.Count).Select(curve.Time)];
        var dip = new DipFit(times, curve.Db, curve.Window, Note, Note, 0.3, -90, null).Solve();
        var heard = new HeardChange { Index = 0, Found = true, Resolution = new(Window) };
        return new LevelMeter(new RoomAnswer(-90, null, echo)).Add(heard, curve, new SteadyNote(0, 0.2, 233, Note), new SteadyNote(0.4, 0.7, 233, Note), dip, 0.3);
    }
}
