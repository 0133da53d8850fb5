using System.Collections.Immutable;
using Seamwright.Core.Listening;
using Seamwright.Core.Units;

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

    [Fact] // A dip so narrow that its own depth is anyone's guess: the window shows some of it, and that is known.
    public void What_the_window_shows_is_known_better_than_the_dip_behind_it()
    {
        var heard = Measure(t => Dip(t, 0.3, 0.06, 14));
        var (low, high) = heard.EarDipBounds!.Value;
        Assert.InRange(heard.EarDip!.Value.Value, low.Value, high.Value);
        Assert.InRange(high.Value - low.Value, 1, 3);
    }

    [Fact]
    public void A_neighbour_that_flickers_leaves_depth_and_times_open()
    {
        var (still, flickering) = (Measure(t => Dip(t, 0.3, 0.1, 24)), Measure(t => Dip(t, 0.3, 0.1, 24), flicker: 1.5));
        Assert.True(Width(flickering.EarDipBounds!.Value) > Width(still.EarDipBounds!.Value) + 2);
        Assert.True(Width(flickering.Below10Interval!.Value) > Width(still.Below10Interval!.Value) + 4);
        Assert.True(Width(flickering.EarGapInterval!.Value) > Width(still.EarGapInterval!.Value) + 8);
    }

    [Fact] // Two periods of a low note are longer than the ear's window.
    public void A_low_notes_short_dip_may_be_as_deep_as_the_dip_behind_it()
    {
        static double Level(double t) => Dip(t, 0.3, 0.03, 24);
        var (high, low) = (Measure(Level).EarDipBounds!.Value, Measure(Level, doubts: [Doubt.LowNote]).EarDipBounds!.Value);
        Assert.Equal(high.Low, low.Low);
        Assert.True(low.High.Value > Math.Max(24, high.High.Value), $"{low.High} and {high.High}");
    }

    [Fact] // A wall's return fills the dip: what the window shows is then not all there is to know.
    public void Where_the_room_fills_dips_the_reading_alone_settles_nothing() =>
        Assert.Null(Measure(t => Dip(t, 0.3, 0.1, 16), new Echo(0.1, 0.1, 0.3, 0.3)).EarDipBounds);

    // The dip is half way back 25 ms after its middle, so bursts count until 105 ms after it.
    [Theory]
    [InlineData(0.36, 6)]
    [InlineData(0.39, 6)]
    [InlineData(0.45, 0)]
    public void A_burst_is_the_new_notes_within_80_ms_of_its_beginning(double top, double over)
    {
        var heard = Measure(t => Dip(t, 0.3, 0.1, 12) - Dip(t, top, 0.04, 6));
        Assert.Equal(over, heard.Overshoot!.Value.Value, 0.3);
    }

    [Fact] // The tongue touches 120 ms before the pitch is half way, and the old note is the louder one.
    public void Until_the_pitch_is_the_new_notes_only_what_exceeds_both_is_a_burst()
    {
        double Level(double t) => (t < 0.42 ? 0 : -6) + Dip(t, 0.3, 0.06, 12);
        Assert.Equal(0, Measure(Level, turn: 0.42, after: -6).Overshoot!.Value.Value, 0.3);
        Assert.Equal(5, Measure(t => Level(t) - Dip(t, 0.36, 0.04, 5), turn: 0.42, after: -6).Overshoot!.Value.Value, 0.3);
    }

    [Fact] // What goes on sinking has no one level to begin above.
    public void A_note_that_fades_may_have_begun_at_its_own_level()
    {
        var heard = Measure(t => Dip(t, 0.3, 0.1, 12) - Dip(t, 0.37, 0.04, 4), sway: 2.5);
        Assert.Equal(0, heard.OvershootBounds!.Value.Low.Value, 0.5);
        Assert.InRange(heard.OvershootBounds!.Value.High.Value, 4, 6);
    }

    // Readings every 5 ms over 300 ms.
    [Theory]
    [InlineData(0, 0, 0, 0.02)] // even
    [InlineData(10, 0, 0, 0.02)] // fading by 10 dB
    [InlineData(0, 60, 0, 0.1)] // rising and falling by 6 dB
    [InlineData(0, 0, 1, 1)] // swinging five times a second by 1 dB to each side
    public void Flicker_is_what_a_level_does_beside_its_own_slow_course(double fall, double arch, double swing, double most)
    {
        var levels = Enumerable.Range(0, 60).Select(i => i * 0.005)
            .Select(t => (-fall * t / 0.3) - (arch * 4.4 * (t - 0.15) * (t - 0.15)) + (swing * Math.Sin(2 * Math.PI * 5 * t))).ToList();
        Assert.InRange(NoteMeter.Flicker(levels), most >= 1 ? 0.5 : 0, most);
    }

    // The old note falls silent for 60 ms; its tail, 7 dB below it and falling by 75 dB a second, is all that is heard of that.
    [Theory]
    [InlineData(0)]
    [InlineData(-4)] // the new note is softer: the tail of the louder one lies only 3 dB below it
    public void A_silence_that_the_old_notes_tail_fills_may_have_been_one(double after)
    {
        var heard = Measure(t => Filled(t, after), after: after, decay: new(0.8, 0.2));
        Assert.InRange(heard.GapBounds!.Value.Low.Milliseconds, 0, 10);
        Assert.InRange(heard.GapBounds!.Value.High.Milliseconds, 60, 110);
        Assert.True(heard.EarGapInterval!.Value.High.Milliseconds > 30, heard.EarGapInterval.ToString());
    }

    [Fact] // 6 dB down with a fifth of the power in the room: however the returns sway, that was no silence.
    public void A_shallow_dip_in_a_room_is_no_silence()
    {
        var heard = Measure(t => Dip(t, 0.3, 0.1, 6), decay: new(0.4, 0.2));
        Assert.True(heard.DipBounds!.Value.High.Value < 20, heard.DipBounds.ToString());
        Assert.Equal(0, heard.EarGapInterval!.Value.High.Milliseconds);
    }

    // A new note's own level has a fifth of its power from the room, which its burst has not: 3 dB above it are 10·log((2 − 0.2)/0.8), 3.5.
    [Theory]
    [InlineData(58)]
    [InlineData(466)]
    public void A_burst_in_a_room_is_known_the_less_the_fewer_partials_bear_it(double hz)
    {
        var heard = Measure(t => Dip(t, 0.3, 0.1, 12) - Dip(t, 0.37, 0.04, 3), decay: new(0.8, 0.2), hz: hz);
        Assert.Equal(3.5, heard.Overshoot!.Value.Value, 0.3);
        Assert.InRange(Width(heard.OvershootBounds!.Value), hz < 100 ? 2 : 4, hz < 100 ? 4 : 8);
    }

    private static double Filled(double t, double after)
    {
        var share = t < 0.3 ? 1 : t < 0.36 ? 0 : Math.Pow(10, after / 10);
        var tail = Math.Pow(10, -0.7 - (7.5 * Math.Max(0, t - 0.3)));
        return 10 * Math.Log10(Math.Max(share, share == 0 ? tail : 0));
    }

    private static double Width(Bounds<Decibels> b) => (b.High - b.Low).Value;

    private static double Width((Seconds Low, Seconds High) b) => (b.High - b.Low).Milliseconds;

    private static double TimeDown(double depth) => depth <= 10 ? 0 : 100 * Math.Acos((20 / depth) - 1) / Math.PI;

    private static double Dip(double t, double centre, double length, double depth) =>
        Math.Abs(t - centre) < length / 2 ? -depth * (1 + Math.Cos(2 * Math.PI * (t - centre) / length)) / 2 : 0;

    private static HeardChange Measure(Func<double, double> level, Echo? echo = null, double flicker = 0, double sway = 0, double turn = 0.3, double after = 0, ImmutableArray<Doubt>? doubts = null,
        Decay? decay = null, double hz = 233)
    {
        var curve = new ChangeCurve(0, 700);
        for (var i = 0; i < curve.Count; i++)
        {
            (curve.Db[i], curve.Window[i]) = (Note + level(curve.Time(i)), Window);
            (curve.Hz[i], curve.Strength[i]) = (hz, 1);
        }

        double[] times = [.. Enumerable.Range(0, curve.Count).Select(curve.Time)];
        var dip = new DipFit(times, curve.Db, curve.Window, Note, Note + after, turn, -90, decay).Solve();
        var heard = new HeardChange { Index = 0, Found = true, Resolution = new(Window), Doubts = doubts ?? [] };
        return new LevelMeter(new RoomAnswer(-90, decay, echo), ListeningSettings.Default.EarWindow.Value).Add(heard, curve, new SteadyNote(0, 0.2, hz, Note) { Partials = Math.Max(1, 600 / hz), Flicker = flicker }, new SteadyNote(0.4, 0.7, hz, Note + after) { Partials = Math.Max(1, 600 / hz), Flicker = flicker, Sway = sway }, dip, turn);
    }
}
