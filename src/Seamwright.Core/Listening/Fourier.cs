using System.Runtime.CompilerServices;
namespace Seamwright.Core.Listening;

/// <summary>A complex Fourier transform of one fixed length, in place, without allocation.</summary>
/// <remarks>Radix 2, decimation in time (Cooley and Tukey 1965); unscaled in both directions. Tested against the defining sum.</remarks>
internal sealed class Fourier
{
    private readonly int length;
    private readonly int[] reversed;
    private readonly float[] cosines;
    private readonly float[] sines;

    /// <param name="length">A power of two, at least 4.</param>
    public Fourier(int length)
    {
        if (length < 4 || !System.Numerics.BitOperations.IsPow2(length)) throw new ArgumentException($"{length} is not a power of two from 4 up.", nameof(length));
        this.length = length;
        var bits = System.Numerics.BitOperations.Log2((uint)length);
        reversed = [.. Enumerable.Range(0, length).Select(i => Reverse(i, bits))];
        cosines = [.. Enumerable.Range(0, length / 2).Select(i => (float)Math.Cos(2 * Math.PI * i / length))];
        sines = [.. Enumerable.Range(0, length / 2).Select(i => (float)-Math.Sin(2 * Math.PI * i / length))];
    }

    /// <summary>X[k] = Σ x[n]·exp(−2πi·kn/N).</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Forward(Span<float> re, Span<float> im)
    {
        re = re[..length];
        im = im[..length];
        for (var i = 0; i < length; i++)
        {
            var j = reversed[i];
            if (j <= i) continue;
            (re[i], re[j]) = (re[j], re[i]);
            (im[i], im[j]) = (im[j], im[i]);
        }

        FirstTwoStages(re, im);
        for (var half = 4; half < length; half *= 2) Stage(re, im, half);
    }

    private static int Reverse(int value, int bits)
    {
        var r = 0;
        for (var b = 0; b < bits; b++) r |= ((value >> b) & 1) << (bits - 1 - b);
        return r;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void FirstTwoStages(Span<float> re, Span<float> im)
    {
        for (var i = 0; i < re.Length; i += 4)
        {
            var (ar, ai, br, bi) = (re[i] + re[i + 1], im[i] + im[i + 1], re[i] - re[i + 1], im[i] - im[i + 1]);
            var (cr, ci, dr, di) = (re[i + 2] + re[i + 3], im[i + 2] + im[i + 3], re[i + 2] - re[i + 3], im[i + 2] - im[i + 3]);
            (re[i], im[i], re[i + 2], im[i + 2]) = (ar + cr, ai + ci, ar - cr, ai - ci);
            (re[i + 1], im[i + 1], re[i + 3], im[i + 3]) = (br + di, bi - dr, br - di, bi + dr);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Stage(Span<float> re, Span<float> im, int half)
    {
        var step = length / (2 * half);
        for (var start = 0; start < length; start += 2 * half)
        {
            var r0 = re.Slice(start, half);
            var i0 = im.Slice(start, half);
            var r1 = re.Slice(start + half, half);
            var i1 = im.Slice(start + half, half);
            for (var k = 0; k < r0.Length; k++)
            {
                var (c, s) = (cosines[k * step], sines[k * step]);
                var tr = (r1[k] * c) - (i1[k] * s);
                var ti = (r1[k] * s) + (i1[k] * c);
                (r1[k], i1[k]) = (r0[k] - tr, i0[k] - ti);
                (r0[k], i0[k]) = (r0[k] + tr, i0[k] + ti);
            }
        }
    }
}
