namespace Seamwright.Core.Diagnosis;

/// <summary>A mean of neighbouring frames, and how many independent ones they are worth.</summary>
/// <param name="Mean">Of all frames.</param>
/// <param name="Variance">Of that mean, frames being alike to their neighbours.</param>
/// <param name="Effective">Independent frames that would give the same variance, more than 1.</param>
/// <remarks>Neighbouring frames share most of their window and a player's air wavers slowly, so n frames are worth n/τ independent
/// ones, τ = 1 + 2·Σρ(k) (Bartlett, Suppl. J. R. Stat. Soc. 8 (1946)). The sum ends where a pair of neighbouring correlations is no longer
/// positive, and never rises (initial monotone sequence: Geyer, Stat. Sci. 7 (1992) 473). Correlations are taken within stretches and
/// about the common mean; that mean follows the frames, which lowers every covariance by the mean's own variance: it is put back, twice.</remarks>
internal readonly record struct SteadyMean(double Mean, double Variance, double Effective)
{
    private const int LeastFrames = 20;
    private const int Corrections = 2;

    /// <summary>Estimates over stretches of neighbouring frames.</summary>
    /// <returns>Null with fewer than 20 frames, or where they are worth less than two.</returns>
    public static SteadyMean? Of(IReadOnlyList<double[]> stretches)
    {
        var count = stretches.Sum(s => s.Length);
        if (count < LeastFrames) return null;
        var mean = stretches.Sum(s => s.Sum()) / count;
        var covariances = new Covariances(stretches, mean);
        if (covariances.At(0) <= 1e-18) return new(mean, 0, count);
        var ofMean = 0.0;
        for (var i = 0; i <= Corrections; i++) ofMean = Summed(covariances, ofMean) / count;
        var effective = (covariances.At(0) + ofMean) / ofMean;
        return effective < 2 ? null : new(mean, ofMean, Math.Min(effective, count));
    }

    // γ(0) + 2·Σγ(k), by pairs: γ(2m) + γ(2m + 1) is positive and falls with m.
    private static double Summed(Covariances covariances, double ofMean)
    {
        var (sum, least) = (-(covariances.At(0) + ofMean), double.PositiveInfinity);
        for (var m = 0; (2 * m) + 1 <= covariances.Furthest; m++)
        {
            var pair = covariances.At(2 * m) + covariances.At((2 * m) + 1) + (2 * ofMean);
            if (pair <= 0) break;
            least = Math.Min(least, pair);
            sum += 2 * least;
        }

        return Math.Max(sum, 1e-18);
    }

    /// <summary>Covariances by distance in frames, each found when it is asked for: few are.</summary>
    private sealed class Covariances(IReadOnlyList<double[]> stretches, double mean)
    {
        private readonly List<double> found = [];

        /// <summary>Half of the longest stretch.</summary>
        public int Furthest { get; } = Math.Max(1, stretches.Max(s => s.Length) / 2);

        public double At(int distance)
        {
            while (found.Count <= distance) found.Add(Of(found.Count));
            return found[distance];
        }

        private double Of(int distance)
        {
            var (sum, pairs) = (0.0, 0);
            foreach (var s in stretches)
            {
                for (var i = 0; i + distance < s.Length; i++) sum += (s[i] - mean) * (s[i + distance] - mean);
                pairs += Math.Max(0, s.Length - distance);
            }

            return pairs == 0 ? 0 : sum / pairs;
        }
    }
}

/// <summary>The difference of two means whose variances differ.</summary>
internal static class Welch
{
    // 95 % of the standard normal distribution: 90 % lie between it and its negative.
    private const double Normal95 = 1.6448536;

    /// <summary>90 % interval of b − a (Welch, Biometrika 34 (1947) 28).</summary>
    public static (double Low, double High) Interval(SteadyMean a, SteadyMean b)
    {
        var variance = a.Variance + b.Variance;
        if (variance == 0) return (b.Mean - a.Mean, b.Mean - a.Mean);
        var freedom = variance * variance
            / ((a.Variance * a.Variance / (a.Effective - 1)) + (b.Variance * b.Variance / (b.Effective - 1)));
        var reach = Quantile95(Math.Max(1, freedom)) * Math.Sqrt(variance);
        return (b.Mean - a.Mean - reach, b.Mean - a.Mean + reach);
    }

    /// <summary>95 % of Student's distribution: Abramowitz and Stegun 26.7.5, within 0.5 % from 3 degrees of freedom.</summary>
    public static double Quantile95(double freedom)
    {
        const double X = Normal95;
        double x2 = X * X, x3 = x2 * X, x5 = x3 * x2, x7 = x5 * x2, x9 = x7 * x2;
        var g1 = (x3 + X) / 4;
        var g2 = ((5 * x5) + (16 * x3) + (3 * X)) / 96;
        var g3 = ((3 * x7) + (19 * x5) + (17 * x3) - (15 * X)) / 384;
        var g4 = ((79 * x9) + (776 * x7) + (1482 * x5) - (1920 * x3) - (945 * X)) / 92160;
        return X + (g1 / freedom) + (g2 / Math.Pow(freedom, 2)) + (g3 / Math.Pow(freedom, 3)) + (g4 / Math.Pow(freedom, 4));
    }
}
