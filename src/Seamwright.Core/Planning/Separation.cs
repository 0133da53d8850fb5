using Seamwright.Core.Instruments;
using Seamwright.Core.Units;

namespace Seamwright.Core.Planning;

/// <summary>What the instrument itself does between two settings, before any tongue.</summary>
public enum Separation
{
    /// <summary>Same pitch, same tube: nothing separates but the tongue.</summary>
    SamePitch,

    /// <summary>The valve combination changes.</summary>
    Valve,

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

    /// <summary>The separation between two neighbouring settings.</summary>
    public static Separation Between(Pitch from, SlideSetting a, Pitch to, SlideSetting b)
    {
        if (a.Side.Id != b.Side.Id) return Separation.Valve;
        if (from.Midi == to.Midi) return Separation.SamePitch;
        if (a.Partial == b.Partial) return Separation.SamePartial;
        return Motion(a, b) switch
        {
            SlideMotion.Still => Separation.StillSlide,
            SlideMotion.Out => to.Midi > from.Midi ? Separation.Contrary : Separation.SameDirection,
            _ => to.Midi < from.Midi ? Separation.Contrary : Separation.SameDirection,
        };
    }

    /// <summary>Which way the slide goes.</summary>
    public static SlideMotion Motion(SlideSetting a, SlideSetting b)
    {
        var move = b.Position - a.Position;
        if (Math.Abs(move) <= StillWithin) return SlideMotion.Still;
        return move > 0 ? SlideMotion.Out : SlideMotion.In;
    }

    /// <summary>Whether the slide would be heard without a tongue.</summary>
    public static bool WouldSmear(this Separation separation) => separation is Separation.SamePartial or Separation.SameDirection;
}
