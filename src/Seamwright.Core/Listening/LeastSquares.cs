using MathNet.Numerics.LinearAlgebra;

namespace Seamwright.Core.Listening;

/// <summary>Fits a few parameters of a model to many readings (Levenberg 1944, Marquardt 1963), and says how well they are known.</summary>
/// <remarks>Forward differences, so a model may be any function. Readings that overlap are not independent: the caller says how many
/// of them make one.</remarks>
internal static class LeastSquares
{
    private const int MostRounds = 20;
    private const double Enough = 1e-3;

    /// <summary>Fills the weighted residuals for a set of parameters.</summary>
    public delegate void Residuals(ReadOnlySpan<double> parameters, Span<double> residuals);

    /// <summary>What was found.</summary>
    /// <param name="Parameters">The best ones.</param>
    /// <param name="MeanSquare">Mean of the squared residuals there.</param>
    /// <param name="Jacobian">Residuals' slopes there: of each parameter, one after another, those of all residuals.</param>
    public sealed record Solution(double[] Parameters, double MeanSquare, double[] Jacobian)
    {
        /// <summary>Standard deviations of figures read from the parameters: how far each moves with them, against how far they may move.</summary>
        /// <param name="figures">From parameters to figures.</param>
        /// <param name="variance">Of one independent residual.</param>
        /// <param name="readings">Residuals that make one independent one.</param>
        /// <returns>Null where the readings say nothing about some parameter.</returns>
        public double[]? Deviations(Func<double[], double[]> figures, double variance, double readings)
        {
            const double Small = 0.01;
            if (Covariance(variance, readings) is not { } covariance) return null;
            var here = figures(Parameters);
            var slopes = Matrix<double>.Build.Dense(here.Length, Parameters.Length);
            for (var k = 0; k < Parameters.Length; k++)
            {
                var moved = Parameters.ToArray();
                moved[k] += Small;
                slopes.SetColumn(k, [.. figures(moved).Zip(here, (there, f) => (there - f) / Small)]);
            }

            return [.. (slopes * covariance).PointwiseMultiply(slopes).RowSums().Select(v => Math.Sqrt(Math.Max(0, v)))];
        }

        /// <summary>Covariance of the parameters if every <paramref name="readings"/> residuals make one independent one of variance
        /// <paramref name="variance"/>; null where the readings say nothing about some parameter.</summary>
        private Matrix<double>? Covariance(double variance, double readings)
        {
            var count = Jacobian.Length / Parameters.Length;
            var scale = 1 / (readings * Math.Max(variance, 1e-12));
            var information = Matrix<double>.Build.Dense(Parameters.Length, Parameters.Length, (k, m) => scale * Vectors.Dot(Jacobian.AsSpan(k * count, count), Jacobian.AsSpan(m * count, count)));
            var sure = information.Diagonal().Maximum() * 1e-9;
            for (var k = 0; k < information.RowCount; k++) information[k, k] += sure;
            var covariance = information.Inverse();
            return covariance.Diagonal().All(d => d >= 0 && double.IsFinite(d)) ? covariance : null;
        }
    }

    /// <summary>From one start to the nearest minimum.</summary>
    /// <param name="residuals">The model against the readings.</param>
    /// <param name="start">First guess; scaled so that 0.01 is a small step in each.</param>
    /// <param name="count">How many residuals.</param>
    public static Solution Solve(Residuals residuals, ReadOnlySpan<double> start, int count)
    {
        var p = start.ToArray();
        var (r, trial) = (new double[count], new double[count]);
        var jacobian = new double[count * p.Length];
        residuals(p, r);
        var (error, damping) = (SumOfSquares(r), 1e-2);
        for (var round = 0; round < MostRounds; round++)
        {
            Slopes(residuals, p, r, trial, jacobian);
            var better = false;
            while (!better && damping < 1e8)
            {
                var next = Step(jacobian, r, p, damping);
                residuals(next, trial);
                var e = SumOfSquares(trial);
                better = e < error;
                damping *= better ? 0.3 : 5;
                if (!better) continue;
                var gain = (error - e) / Math.Max(error, 1e-12);
                (p, error) = (next, e);
                trial.CopyTo(r, 0);
                if (gain < Enough) return new Solution(p, error / count, jacobian);
            }

            if (!better) break;
        }

        return new Solution(p, error / count, jacobian);
    }

    private static void Slopes(Residuals residuals, double[] p, double[] r, double[] trial, double[] jacobian)
    {
        const double Small = 1e-3;
        for (var k = 0; k < p.Length; k++)
        {
            var kept = p[k];
            p[k] += Small;
            residuals(p, trial);
            p[k] = kept;
            var slopes = jacobian.AsSpan(k * r.Length, r.Length);
            for (var i = 0; i < slopes.Length; i++) slopes[i] = (trial[i] - r[i]) / Small;
        }
    }

    private static double[] Step(double[] jacobian, double[] r, double[] p, double damping)
    {
        var n = p.Length;
        Span<double> a = stackalloc double[n * n];
        Span<double> b = stackalloc double[n];
        for (var k = 0; k < n; k++)
        {
            var slopes = jacobian.AsSpan(k * r.Length, r.Length);
            b[k] = -Vectors.Dot(slopes, r);
            for (var m = 0; m <= k; m++) a[(k * n) + m] = Vectors.Dot(slopes, jacobian.AsSpan(m * r.Length, r.Length));
        }

        for (var k = 0; k < n; k++)
        {
            for (var m = k + 1; m < n; m++) a[(k * n) + m] = a[(m * n) + k];
            a[(k * n) + k] += (damping * a[(k * n) + k]) + 1e-9;
        }

        Eliminate(a, b, n);
        var next = new double[n];
        for (var k = 0; k < n; k++) next[k] = p[k] + b[k];
        return next;
    }

    // Gauss elimination; the damping keeps every pivot above 0.
    private static void Eliminate(Span<double> a, Span<double> b, int n)
    {
        for (var k = 0; k < n; k++)
        {
            for (var i = k + 1; i < n; i++)
            {
                var f = a[(i * n) + k] / a[(k * n) + k];
                for (var m = k; m < n; m++) a[(i * n) + m] -= f * a[(k * n) + m];
                b[i] -= f * b[k];
            }
        }

        for (var k = n - 1; k >= 0; k--)
        {
            for (var m = k + 1; m < n; m++) b[k] -= a[(k * n) + m] * b[m];
            b[k] /= a[(k * n) + k];
        }
    }

    private static double SumOfSquares(ReadOnlySpan<double> r)
    {
        return Vectors.Dot(r, r);
    }
}
