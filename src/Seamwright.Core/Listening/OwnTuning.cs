using MathNet.Numerics.Distributions;
using Seamwright.Core.Units;

namespace Seamwright.Core.Listening;

/// <summary>How far a whole pass lies above the pitch it was asked at: the instrument's tuning, not any note's.</summary>
/// <remarks>The median over the different pitches, so that neither one badly placed note nor one played often decides. Its doubt follows
/// from how far the pitches lie apart: their interquartile range over 1.349, as for a normal distribution, so that a quarter of them may
/// be wrong without a word while two camps leave the tuning open; a median's deviation is 1.2533 times a mean's.</remarks>
/// <param name="Cents">Positive: sharp.</param>
/// <param name="Bounds">90 % interval.</param>
public readonly record struct OwnTuning(Cents Cents, Bounds<Cents> Bounds)
{
    // The median of fewer lies outside their range in more than one case of ten.
    private const int FewestPitches = 5;
    private const double RangeOverDeviation = 1.349;
    private const double OfAMedian = 1.2533;

    /// <summary>Half the interval's width.</summary>
    public double Reach => (Bounds.High - Bounds.Low).Value / 2;

    /// <summary>The tuning of one pass.</summary>
    /// <returns>Null where fewer than five pitches were measured, or where the interval holds the plan's own pitch.</returns>
    public static OwnTuning? Of(IEnumerable<HeardNote> notes)
    {
        var measured = notes.Where(n => n.Cents is { } c && double.IsFinite(c.Value)).ToList();
        var pitches = measured.GroupBy(n => n.Pitch).Select(g => Median(g.Select(n => n.Cents!.Value.Value))).ToList();
        if (pitches.Count < FewestPitches) return null;
        var middle = Median(pitches);
        var spread = (Quantile(pitches, 0.75) - Quantile(pitches, 0.25)) / RangeOverDeviation;
        var own = Median(measured.Select(n => n.CentsBounds is { } b ? (b.High - b.Low).Value / 2 : 0));
        var median = StudentT.InvCDF(0, 1, pitches.Count - 1, 0.95) * OfAMedian * spread / Math.Sqrt(pitches.Count);
        var reach = Math.Sqrt((median * median) + (own * own));
        return Math.Abs(middle) <= reach ? null : new(new(middle), new(new(middle - reach), new(middle + reach)));
    }

    /// <summary>A note's distance from this pitch: both doubts together.</summary>
    internal (Cents Cents, Bounds<Cents>? Bounds) Off(HeardNote note)
    {
        var off = note.Cents!.Value - Cents;
        if (note.CentsBounds is not { } b) return (off, null);
        Cents low = new(Math.Sqrt(Square((note.Cents.Value - b.Low).Value) + Square(Reach))), high = new(Math.Sqrt(Square((b.High - note.Cents.Value).Value) + Square(Reach)));
        return (off, new(off - low, off + high));
    }

    private static double Square(double x) => x * x;

    private static double Median(IEnumerable<double> values) => Quantile(values, 0.5);

    // Linear between neighbours.
    private static double Quantile(IEnumerable<double> values, double share)
    {
        var sorted = values.Order().ToList();
        var place = share * (sorted.Count - 1);
        var below = (int)place;
        return sorted[below] + ((place - below) * (sorted[Math.Min(below + 1, sorted.Count - 1)] - sorted[below]));
    }
}
