using System.Runtime.CompilerServices;
namespace Seamwright.Core.Listening;

/// <summary>Normal equations whose unknowns concern only their neighbours: one least-squares step for a curve on knots.</summary>
/// <param name="size">Unknowns.</param>
/// <param name="band">How many neighbours, itself included, one may meet in a reading.</param>
internal sealed class BandedSystem(int size, int band)
{
    private readonly double[] matrix = new double[size * band];
    private readonly double[] right = new double[size];
    private readonly double[] factor = new double[size * band];

    public void Clear()
    {
        matrix.AsSpan().Clear();
        right.AsSpan().Clear();
    }

    /// <summary>Adds one reading: slopes of the model at the unknowns from <paramref name="first"/> to <paramref name="last"/>, and what it misses.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Add(ReadOnlySpan<double> slopes, int first, int last, double missing, double weight)
    {
        last = Math.Min(last, first + band - 1);
        for (var k = first; k <= last; k++)
        {
            var s = weight * slopes[k];
            right[k] += s * missing;
            var row = matrix.AsSpan(k * band, band);
            for (var m = k; m <= last; m++) row[m - k] += s * slopes[m];
        }
    }

    /// <summary>The step (Cholesky's factors within the band); each diagonal is first raised by a share.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Solve(double damping, Span<double> step)
    {
        matrix.CopyTo(factor, 0);
        for (var k = 0; k < size; k++)
        {
            var row = factor.AsSpan(k * band, band);
            row[0] += (damping * row[0]) + 1e-9;
            var far = Math.Min(band, size - k);
            for (var m = 1; m < far; m++)
            {
                if (row[m] == 0) continue;
                var share = row[m] / row[0];
                var next = factor.AsSpan((k + m) * band, band);
                for (var j = m; j < far; j++) next[j - m] -= share * row[j];
            }
        }

        right.CopyTo(step);
        for (var k = 0; k < size; k++)
        {
            var row = factor.AsSpan(k * band, band);
            for (var m = 1; m < Math.Min(band, size - k); m++) step[k + m] -= row[m] / row[0] * step[k];
        }

        for (var k = size - 1; k >= 0; k--)
        {
            var row = factor.AsSpan(k * band, band);
            var x = step[k];
            for (var m = 1; m < Math.Min(band, size - k); m++) x -= row[m] * step[k + m];
            step[k] = x / row[0];
        }
    }
}
