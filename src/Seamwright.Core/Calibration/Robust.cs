using MathNet.Numerics.Distributions;

namespace Seamwright.Core.Calibration;

/// <summary>Location and spread that a few wrong notes do not move.</summary>
/// <remarks>Location by Huber's M-estimator (P. J. Huber, Ann. Math. Statist. 35 (1964) 73–101, k = 1.345), spread by the median
/// absolute deviation times 1.4826.</remarks>
internal static class Robust
{
    private const double K = 1.345;
    private const double ToDeviation = 1.4826;

    // A note's pitch is measured no better than this, whatever its neighbours say; and what every note has in common is no better known.
    private const double LeastSpread = 0.7;
    private const double Common = 0.6;

    public static double Median(IEnumerable<double> values)
    {
        var sorted = values.Order().ToArray();
        var middle = sorted.Length / 2;
        return sorted.Length % 2 == 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
    }

    /// <summary>Huber's location, given the spread.</summary>
    public static double Location(IReadOnlyList<double> values, double spread)
    {
        var at = Median(values);
        for (var round = 0; round < 50; round++)
        {
            var (sum, weights) = (0.0, 0.0);
            foreach (var v in values)
            {
                var w = Math.Min(1, K * spread / Math.Max(1e-12, Math.Abs(v - at)));
                (sum, weights) = (sum + (w * v), weights + w);
            }

            var next = sum / weights;
            if (Math.Abs(next - at) < 1e-6) return next;
            at = next;
        }

        return at;
    }

    /// <summary>Spread about each group's own median, all groups together; a lone value says nothing of it.</summary>
    public static double Spread(IEnumerable<IReadOnlyList<double>> groups)
    {
        var off = groups.Where(g => g.Count > 1).SelectMany(g => g.Select(v => Math.Abs(v - Median(g)) * Math.Sqrt(g.Count / (g.Count - 1.0)))).ToList();
        return off.Count == 0 ? 3 * LeastSpread : Math.Max(LeastSpread, ToDeviation * Median(off));
    }

    /// <summary>Half of the 90 % interval of a location (Student's t; Huber's estimate keeps 95 % of the mean's efficiency).</summary>
    /// <param name="spread">Of one value.</param>
    /// <param name="count">Values it rests on.</param>
    /// <param name="freedom">Values the spread rests on, less their groups.</param>
    public static double Reach(double spread, int count, int freedom) =>
        Math.Sqrt(Math.Pow(StudentT.InvCDF(0, 1, Math.Max(1, freedom), 0.95) * spread, 2) / (0.95 * count) + (Common * Common));
}
