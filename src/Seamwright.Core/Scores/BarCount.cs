using Seamwright.Core.Units;

namespace Seamwright.Core.Scores;

/// <summary>How players count inside a bar.</summary>
public static class BarCount
{
    /// <summary>The beat of a place in a bar: 1 for the downbeat, counted in the lower number of the meter.</summary>
    /// <remarks>An upbeat counts towards the bar line: a quarter before a bar of 4/4 is beat 4.</remarks>
    /// <param name="part">The part that holds the bar.</param>
    /// <param name="bar">The bar.</param>
    /// <param name="offset">From the start of the bar.</param>
    public static Beats BeatOf(Part part, Bar bar, Beats offset) =>
        (offset + ShiftOf(part, bar)).Times(bar.Meter.BeatUnit, 4) + Beats.Quarter;

    /// <summary>Where in a whole bar of its meter a bar begins: what an upbeat lacks, else 0.</summary>
    public static Beats ShiftOf(Part part, Bar bar) => IsUpbeat(part, bar) ? bar.Meter.BarLength - bar.Length : Beats.Zero;

    /// <summary>Whether a short bar leads up to a bar line, rather than completing an upbeat that came before.</summary>
    public static bool IsUpbeat(Part part, Bar bar)
    {
        if (!bar.IsPickup || bar.Length > bar.Meter.BarLength) return false;
        if (bar.Index == 0) return true;
        var before = part.Bars[bar.Index - 1];
        return before.IsPickup && before.Length + bar.Length == bar.Meter.BarLength;
    }
}
