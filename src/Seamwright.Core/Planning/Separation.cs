using Seamwright.Core.Instruments;
using Seamwright.Core.Units;

namespace Seamwright.Core.Planning;

/// <summary>What the instrument itself does between two settings, before any tongue.</summary>
public enum Separation
{
    /// <summary>Same pitch, same tube: nothing separates but the tongue.</summary>
    SamePitch,

    /// <summary>The valve combination changes and the pitch jumps with it.</summary>
    Valve,

    /// <summary>The valve combination changes while the slide goes with the pitch, and half way both tubes sound so nearly alike that hardly
    /// anything jumps: the slide is heard as on one tube.</summary>
    ValveMeets,

    /// <summary>Same partial, the slide moves: it is heard at any speed.</summary>
    SamePartial,

    /// <summary>The partial changes and the slide stays.</summary>
    StillSlide,

    /// <summary>The partial changes and the slide goes against the pitch.</summary>
    Contrary,

    /// <summary>The partial changes and the slide goes with the pitch: it is heard until the partial breaks.</summary>
    SameDirection,
}

/// <summary>Decides the <see cref="Separation"/> of two settings; common practice of the trade, in its order of questions.</summary>
public static class Separations
{
    /// <summary>Slide moves up to this many open-horn positions between two partials count as still: they are corrections
    /// within the position (the fifth partial's 13.7 cents are 0.14).</summary>
    public const double StillWithin = PositionLabel.PlainWithin;

    /// <summary>Semitones by which the pitch must jump on, where the valve turns over a slide that goes with it, for the valve to separate the
    /// notes. One semitone, the smallest step in the music; half a semitone where the interval is one: the other half slides, and that is
    /// noticed only from 160 ms on (<see cref="Smear.PossibleFrom"/>), longer than such a glide takes. A proposed default.</summary>
    public const double SeparatingJump = 1;

    /// <summary>The separation between two neighbouring settings.</summary>
    /// <param name="instrument">Whose settings they are; for what sounds on the way.</param>
    /// <param name="from">What <paramref name="a"/> plays.</param>
    /// <param name="a">Before.</param>
    /// <param name="to">What <paramref name="b"/> plays.</param>
    /// <param name="b">After.</param>
    public static Separation Between(Instrument instrument, Pitch from, SlideSetting a, Pitch to, SlideSetting b)
    {
        if (a.Side.Id != b.Side.Id) return Meet(instrument, to.Midi - from.Midi, a, b) ? Separation.ValveMeets : Separation.Valve;
        if (from.Midi == to.Midi) return Separation.SamePitch;
        if (a.Partial == b.Partial) return Separation.SamePartial;
        return Motion(a, b) switch
        {
            SlideMotion.Still => Separation.StillSlide,
            SlideMotion.Out => to.Midi > from.Midi ? Separation.Contrary : Separation.SameDirection,
            _ => to.Midi < from.Midi ? Separation.Contrary : Separation.SameDirection,
        };
    }

    /// <summary>What jumps where one setting gives way to the other at the middle of the arm's movement (<see cref="Smear.BreakAt"/>): how far
    /// the new tube's partial then sounds above the old one's, each tube at its own length there.</summary>
    /// <returns>Negative where the new one sounds below.</returns>
    public static Cents JumpHalfWay(Instrument instrument, SlideSetting a, SlideSetting b)
    {
        var travel = new Centimetres(a.Travel.Value + (Smear.BreakAt * (b.Travel - a.Travel).Value));
        return instrument.Sounding(b.Side, b.Partial, travel).Above(instrument.Sounding(a.Side, a.Partial, travel));
    }

    /// <summary>Which way the slide goes.</summary>
    public static SlideMotion Motion(SlideSetting a, SlideSetting b)
    {
        var move = b.Position - a.Position;
        if (Math.Abs(move) <= StillWithin) return SlideMotion.Still;
        return move > 0 ? SlideMotion.Out : SlideMotion.In;
    }

    /// <summary>Whether the slide would be heard without a tongue.</summary>
    public static bool WouldSmear(this Separation separation) => separation is Separation.SamePartial or Separation.SameDirection or Separation.ValveMeets;

    // A note that stays the same goes nowhere: what the slide does between is not separated from it, however far the tubes lie apart there.
    private static bool Meet(Instrument instrument, int interval, SlideSetting a, SlideSetting b)
    {
        var motion = Motion(a, b);
        if (motion == SlideMotion.Still || interval * (motion == SlideMotion.In ? 1 : -1) < 0) return false;
        if (interval == 0) return true;
        var onward = Math.Sign(interval) * JumpHalfWay(instrument, a, b).Value / 100;
        return onward < Math.Min(SeparatingJump, Math.Abs(interval) / 2.0);
    }
}
