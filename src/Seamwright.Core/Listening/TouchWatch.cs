namespace Seamwright.Core.Listening;

/// <summary>Finds touches as they happen: the level dips and comes back while the tone goes on.</summary>
/// <remarks>A dip counts from 3 dB below the tone's own level (twice what is just heard in a window of 13 ms, rounded up) and is over
/// when the level is back within 3 dB. What lasts longer than 300 ms was no touch but an end. Proposed defaults.</remarks>
public sealed class TouchWatch
{
    private const double Enough = 3, Longest = 0.3, Quiet = -70;

    // The tone's own level follows in about a fifth of a second, upward at once.
    private const double Follow = 0.03;

    private double tone = double.NegativeInfinity, began, deepest, deepestAt;
    private bool inDip;

    /// <summary>Takes the next frame, 5 ms after the one before; the touch that ends with it, or null.</summary>
    public LiveTouch? Next(double time, Frame frame)
    {
        var level = frame.Level.Value;
        if (level < Quiet && !inDip) tone = double.NegativeInfinity;
        if (!inDip) return Outside(time, level, frame.Pitch is not null);
        if (level < deepest) (deepest, deepestAt) = (level, time);
        if (time - began > Longest)
        {
            (inDip, tone) = (false, double.NegativeInfinity);
            return null;
        }

        if (level < tone - Enough) return null;
        inDip = false;
        return new LiveTouch(Math.Round(deepestAt, 3), Math.Round(tone - deepest, 1), Math.Round((time - began) * 1000));
    }

    private LiveTouch? Outside(double time, double level, bool sounds)
    {
        if (level < tone - Enough)
        {
            (inDip, began, deepest, deepestAt) = (true, time, level, time);
            return null;
        }

        if (sounds) tone = level > tone ? level : tone + ((level - tone) * Follow);
        return null;
    }
}

/// <summary>A dip in a tone that goes on.</summary>
/// <param name="At">Seconds, where it is deepest.</param>
/// <param name="Depth">Decibels below the tone before it.</param>
/// <param name="Milliseconds">From 3 dB down to 3 dB down again.</param>
public sealed record LiveTouch(double At, double Depth, double Milliseconds);
