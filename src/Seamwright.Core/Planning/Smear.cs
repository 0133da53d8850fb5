using Seamwright.Core.Instruments;
using Seamwright.Core.Units;

namespace Seamwright.Core.Planning;

/// <summary>How long the slide would be heard if no tongue hid it.</summary>
public static class Smear
{
    /// <summary>Share of the arm's movement after which a change of partial in the same direction is taken to break, and a valve to turn.
    /// Half way, a proposed default: the lips let go of the old partial when the new one is nearer.</summary>
    public const double BreakAt = 0.5;

    /// <summary>The 10–90 % time of the pitch's glide; zero where the change separates by itself.</summary>
    /// <remarks>On one partial the pitch follows the slide: the times at which it has gone 10 and 90 % of its way in cents, by the
    /// inverse of the minimum-jerk movement. Across partials in the same direction the glide ends at the break. Where two tubes meet half way it
    /// goes on from the one on the other; what jumps there takes no time.</remarks>
    /// <param name="instrument">Whose settings they are.</param>
    /// <param name="separation">Between the two settings.</param>
    /// <param name="a">Before.</param>
    /// <param name="b">After.</param>
    /// <param name="move">The arm's.</param>
    public static Seconds Untongued(Instrument instrument, Separation separation, SlideSetting a, SlideSetting b, ArmMove move)
    {
        if (!separation.WouldSmear() || move.Time.Value == 0) return Seconds.Zero;
        if (separation == Separation.ValveMeets) return AcrossTubes(instrument, a, b) * move.Time;
        var start = TimeShare(a, b, 0.1);
        var end = separation == Separation.SamePartial ? TimeShare(a, b, 0.9) : MinimumJerk.TimeAt(BreakAt);
        return Math.Max(0, end - start) * move.Time;
    }

    /// <summary>From when a glide over an interval is possibly heard as a smear: 80 ms over the semitones, never under 50 ms.</summary>
    /// <remarks>Half of 't Hart's (1976) threshold for hearing a glide, 160 ms over the semitones; the floor is what a fine player's
    /// own slides need. A proposed default.</remarks>
    public static Seconds PossibleFrom(double semitones) => Seconds.FromMilliseconds(Math.Max(50, 80 / Math.Max(1e-9, Math.Abs(semitones))));

    // Share of the movement's time from the first tenth of the pitch's way to the last. Where it jumps back, or comes back to the same note, the
    // way there is longer than the interval: the arm's own tenths then.
    private static double AcrossTubes(Instrument instrument, SlideSetting a, SlideSetting b)
    {
        var (from, to) = (instrument.Sounding(a), instrument.Sounding(b));
        var start = Math.Clamp(ProgressAt(a, 0.1), 0.1, BreakAt);
        var end = Math.Clamp(ProgressAt(b, 0.9), BreakAt, 0.9);
        return MinimumJerk.TimeAt(end) - MinimumJerk.TimeAt(start);

        double ProgressAt(SlideSetting on, double share)
        {
            var travel = instrument.TravelFor(on.Side, on.Partial, new(from.Value * Math.Pow(to.Value / from.Value, share)));
            return (travel - a.Travel).Value / (b.Travel - a.Travel).Value;
        }
    }

    // Share of the movement's time at which the pitch has gone a share of its way in cents on one tube.
    private static double TimeShare(SlideSetting a, SlideSetting b, double share)
    {
        var la = a.Side.EffectiveLength.Value + (2 * a.Travel.Value);
        var lb = a.Side.EffectiveLength.Value + (2 * b.Travel.Value);
        var l = la * Math.Pow(lb / la, share);
        return MinimumJerk.TimeAt((l - la) / (lb - la));
    }
}
