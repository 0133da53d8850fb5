using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

/// <summary>What arm, lips, tongue and air do between two notes.</summary>
public sealed record ChangeExecution
{
    /// <summary>The arm's whole minimum-jerk movement; 0 or more. Where the slide stays this is 0.</summary>
    public Seconds Move { get; init; }

    /// <summary>10–90 % of the pitch's way that is wanted; the voice then finds the movement, from <see cref="Move"/> on. Null: the
    /// movement is as it says. Heeded only where one partial slides.</summary>
    public Seconds? Glide { get; init; }

    /// <summary>Middle of the movement against the second note's beginning: negative before it. With a still slide, when the partial breaks.</summary>
    public Seconds Centre { get; init; }

    /// <summary>Share of the movement's time, 0 to 1, at which one partial gives way to the other or the valve turns. Default 0.5.</summary>
    public double BreakAt { get; init; } = 0.5;

    /// <summary>How long the pitch is between two partials, more than 0. Default 8 ms: the median of 1–33 ms measured on one player.</summary>
    public Seconds Break { get; init; } = Seconds.FromMilliseconds(8);

    /// <summary>How long the lips take from partial to partial, more than 0. Default 50 ms; more than about 84 a lip change alone never
    /// takes (horn trills: Iltis et al., Med. Probl. Perform. Art. 32 (2017) 209).</summary>
    public Seconds Lips { get; init; } = Seconds.FromMilliseconds(50);

    /// <summary>How deep the level dips, 0 or more: tongue, lips or both.</summary>
    public Decibels Dip { get; init; }

    /// <summary>The dip's width at half its depth in dB. Its flanks are raised cosines in dB, so it spans twice this.</summary>
    public Seconds DipWidth { get; init; } = Seconds.FromMilliseconds(40);

    /// <summary>Middle of the dip against the moment at which the pitch is half way: positive is late.</summary>
    public Seconds DipOffset { get; init; }

    /// <summary>By how much the tongue comes before the moment <see cref="DipOffset"/> names, where the partial changes; when the new partial then
    /// speaks is the column's affair. Default 0.</summary>
    public Seconds TongueFirst { get; init; }

    /// <summary>Time more than 20 dB down because the air stops; where it is not 0 it takes the dip's place.</summary>
    public Seconds Gap { get; init; }

    /// <summary>How far the new note bursts above its own level.</summary>
    public Decibels Bump { get; init; }

    /// <summary>A wrong partial on the way, or null.</summary>
    public Crack? Crack { get; init; }

    /// <summary>Silence that ends with the second note's beginning, for a rest or a breath; 0 where the notes are joined.</summary>
    public Seconds Rest { get; init; }

    /// <summary>The whole movement whose middle 80 % of slide travel take so long: a minimum-jerk movement spends 0.507 of its time there.</summary>
    public static Seconds MoveFor(Seconds glide) =>
        new(glide.Value / MinimumJerk.TenToNinety);
}

/// <summary>A wrong partial caught for a moment.</summary>
/// <param name="Partial">Which; 1 is the pedal.</param>
/// <param name="Duration">How long.</param>
public sealed record Crack(int Partial, Seconds Duration);
