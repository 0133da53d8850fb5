using System.Numerics;
using System.Runtime.CompilerServices;
namespace Seamwright.Core.Listening;

/// <summary>Normal equations whose unknowns concern only their neighbours: one least-squares step for a curve on knots.</summary>
/// <param name="size">Unknowns.</param>
/// <param name="reach">How many neighbours, itself included, one may meet in a reading.</param>
internal sealed class BandedSystem(int size, int reach)
{
    // Rows are as long as whole vectors, so that sums may run over their ends into zeros.
    private readonly int band = Padded(reach);
    private readonly double[] matrix = new double[size * Padded(reach)];
    private readonly double[] factor = new double[size * Padded(reach)];
    private readonly double[] right = new double[size];

    /// <summary>Room a caller's slopes need beyond the last one, zeros.</summary>
    public static int Padding => Vector<double>.Count;

    public void Clear()
    {
        matrix.AsSpan().Clear();
        right.AsSpan().Clear();
    }

    /// <summary>Adds one reading.</summary>
    /// <param name="first">The first unknown it concerns.</param>
    /// <param name="count">How many it concerns.</param>
    /// <param name="slopes">The model's slopes there, then zeros, see <see cref="Padding"/>.</param>
    /// <param name="missing">What the model misses.</param>
    /// <param name="weight">One over its variance.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Add(int first, int count, ReadOnlySpan<double> slopes, double missing, double weight)
    {
        for (var k = 0; k < count; k++)
        {
            var s = weight * slopes[k];
            right[first + k] += s * missing;
            var row = matrix.AsSpan((first + k) * band, band);
            var by = new Vector<double>(s);
            for (var m = k; m < count; m += Vector<double>.Count)
            {
                var sum = new Vector<double>(row[(m - k)..]) + (by * new Vector<double>(slopes[m..]));
                sum.CopyTo(row[(m - k)..]);
            }
        }
    }

    /// <summary>The step (Cholesky's factors within the band); each diagonal is first raised by a share.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Solve(double damping, Span<double> step)
    {
        matrix.CopyTo(factor, 0);
        right.CopyTo(step);
        for (var k = 0; k < size; k++)
        {
            var row = factor.AsSpan(k * band, band);
            row[0] += (damping * row[0]) + 1e-9;
            var inverse = 1 / row[0];
            for (var m = 1; m < Math.Min(reach, size - k); m++)
            {
                if (row[m] == 0) continue;
                var share = row[m] * inverse;
                var next = factor.AsSpan((k + m) * band, band);
                var by = new Vector<double>(share);
                for (var j = m; j < reach; j += Vector<double>.Count)
                {
                    var difference = new Vector<double>(next[(j - m)..]) - (by * new Vector<double>(row[j..]));
                    difference.CopyTo(next[(j - m)..]);
                }

                step[k + m] -= share * step[k];
            }
        }

        for (var k = size - 1; k >= 0; k--)
        {
            var row = factor.AsSpan(k * band, band);
            var x = step[k];
            for (var m = 1; m < Math.Min(reach, size - k); m++) x -= row[m] * step[k + m];
            step[k] = x / row[0];
        }
    }

    private static int Padded(int reach) => (reach + (2 * Vector<double>.Count) - 1) / Vector<double>.Count * Vector<double>.Count;
}
