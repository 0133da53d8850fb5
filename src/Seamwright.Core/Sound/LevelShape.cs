namespace Seamwright.Core.Sound;

/// <summary>A fall of the level and its return: raised-cosine flanks in dB, flat between.</summary>
/// <param name="FallStart">Seconds, as all times here.</param>
/// <param name="HoldStart">When the depth is reached.</param>
/// <param name="HoldEnd">When it rises again.</param>
/// <param name="RiseEnd">When it is back.</param>
/// <param name="Depth">dB, positive.</param>
internal readonly record struct LevelShape(double FallStart, double HoldStart, double HoldEnd, double RiseEnd, double Depth)
{
    /// <summary>Where a listener says a sound begins and ends: 20 dB down (onsets are perceived 15–20 dB below the maximum, Rasch 1979).</summary>
    public const double EdgeDb = 20;

    /// <summary>A dip by its middle and its width at half depth.</summary>
    public static LevelShape Dip(double centre, double width, double depth) =>
        new(centre - width, centre, centre, centre + width, depth);

    /// <summary>A silence that lies more than 20 dB down from <paramref name="start"/> to <paramref name="end"/>; the flanks shorten
    /// where they would not fit.</summary>
    public static LevelShape Silence(double start, double end, double depth, double fall, double rise)
    {
        // A raised cosine of this depth passes 20 dB after this share of its flank, counted from its top.
        var top = Math.Acos(1 - (2 * EdgeDb / depth)) / Math.PI;
        var inside = (1 - top) * (fall + rise);
        var fit = Math.Min(1, (end - start) / inside);
        var f = fall * fit;
        var r = rise * fit;
        return new(start - (top * f), start + ((1 - top) * f), end - ((1 - top) * r), end + (top * r), depth);
    }

    /// <summary>dB, 0 or less.</summary>
    public double At(double t)
    {
        if (t <= FallStart || t >= RiseEnd) return 0;
        if (t < HoldStart) return -Depth * Cosine((t - FallStart) / (HoldStart - FallStart));
        return t <= HoldEnd ? -Depth : -Depth * Cosine((RiseEnd - t) / (RiseEnd - HoldEnd));
    }

    /// <summary>1 outside, 0 at the depth, raised cosines between: what a stream does that comes and goes in the same time.</summary>
    public double ShareAt(double t) => 1 + (At(t) / Depth);

    private static double Cosine(double share) => (1 - Math.Cos(Math.PI * share)) / 2;
}
