using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
namespace Seamwright.Core.Listening;

/// <summary>A complex Fourier transform of one fixed length, in place, without allocation.</summary>
/// <remarks>Radix 2, decimation in time (Cooley and Tukey 1965); unscaled in both directions. Tested against the defining sum.</remarks>
internal sealed class Fourier
{
    private readonly int length;
    private readonly int[] reversed;

    // Each stage's own factors in a row, so that several are used at a time.
    private readonly float[][] cosines;
    private readonly float[][] sines;

    /// <param name="length">A power of two, at least 4.</param>
    public Fourier(int length)
    {
        if (length < 4 || !BitOperations.IsPow2(length)) throw new ArgumentException($"{length} is not a power of two from 4 up.", nameof(length));
        this.length = length;
        var bits = BitOperations.Log2((uint)length);
        reversed = [.. Enumerable.Range(0, length).Select(i => Reverse(i, bits))];
        cosines = [.. Enumerable.Range(0, bits).Select(b => Factors(1 << b, x => Math.Cos(x)))];
        sines = [.. Enumerable.Range(0, bits).Select(b => Factors(1 << b, x => -Math.Sin(x)))];
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

        Gather(re, im);
    }

    /// <summary>The same of a sound whose second half is silence, its frequencies in the order of reversed bits.</summary>
    /// <param name="re">In the first half the sound; what the second holds is not read.</param>
    /// <param name="im">As <paramref name="re"/>.</param>
    /// <remarks>Decimation in frequency (Gentleman and Sande 1966): nothing need be put in order before <see cref="Gather"/>. The opposite of
    /// frequency k is then found, in each stretch of 2^m figures from place 2^m on, as far from its end as k from its beginning.</remarks>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Spread(Span<float> re, Span<float> im)
    {
        re = re[..length];
        im = im[..length];
        var half = length / 2;
        var bits = BitOperations.Log2((uint)half);
        Turned(re[..half], im[..half], re[half..], im[half..], cosines[bits], sines[bits]);
        for (half /= 2; half >= 4; half /= 2)
        {
            bits = BitOperations.Log2((uint)half);
            for (var start = 0; start < length; start += 2 * half)
                Parted(re.Slice(start, half), im.Slice(start, half), re.Slice(start + half, half), im.Slice(start + half, half), cosines[bits], sines[bits]);
        }

        LastTwoStages(re, im);
    }

    /// <summary>The same of figures in the order of reversed bits.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Gather(Span<float> re, Span<float> im)
    {
        re = re[..length];
        im = im[..length];
        FirstTwoStages(re, im);
        for (var half = 4; half < length; half *= 2) Stage(re, im, half);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Turned(Span<float> re0, Span<float> im0, Span<float> re1, Span<float> im1, ReadOnlySpan<float> cos, ReadOnlySpan<float> sin)
    {
        var k = 0;
        for (; k + Vector<float>.Count <= re0.Length; k += Vector<float>.Count)
        {
            var (c, s, r, i) = (new Vector<float>(cos[k..]), new Vector<float>(sin[k..]), new Vector<float>(re0[k..]), new Vector<float>(im0[k..]));
            ((r * c) - (i * s)).CopyTo(re1[k..]);
            ((r * s) + (i * c)).CopyTo(im1[k..]);
        }

        for (; k < re0.Length; k++) (re1[k], im1[k]) = ((re0[k] * cos[k]) - (im0[k] * sin[k]), (re0[k] * sin[k]) + (im0[k] * cos[k]));
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Parted(Span<float> re0, Span<float> im0, Span<float> re1, Span<float> im1, ReadOnlySpan<float> cos, ReadOnlySpan<float> sin)
    {
        var k = 0;
        if (re0.Length == 4 && Vector128.IsHardwareAccelerated)
        {
            FourParted(re0, im0, re1, im1, cos, sin);
            return;
        }

        var n = re0.Length;
        ref var r00 = ref MemoryMarshal.GetReference(re0);
        ref var i00 = ref MemoryMarshal.GetReference(im0[..n]);
        ref var r10 = ref MemoryMarshal.GetReference(re1[..n]);
        ref var i10 = ref MemoryMarshal.GetReference(im1[..n]);
        ref var cos0 = ref MemoryMarshal.GetReference(cos[..n]);
        ref var sin0 = ref MemoryMarshal.GetReference(sin[..n]);
        for (; k + Vector<float>.Count <= re0.Length; k += Vector<float>.Count)
        {
            var (c, s) = (At(ref cos0, k), At(ref sin0, k));
            var (r0, i0, r1, i1) = (At(ref r00, k), At(ref i00, k), At(ref r10, k), At(ref i10, k));
            (r0 + r1).StoreUnsafe(ref r00, (nuint)k);
            (i0 + i1).StoreUnsafe(ref i00, (nuint)k);
            var (r, i) = (r0 - r1, i0 - i1);
            ((r * c) - (i * s)).StoreUnsafe(ref r10, (nuint)k);
            ((r * s) + (i * c)).StoreUnsafe(ref i10, (nuint)k);
        }

        for (; k < re0.Length; k++)
        {
            var (r, i) = (re0[k] - re1[k], im0[k] - im1[k]);
            (re0[k], im0[k]) = (re0[k] + re1[k], im0[k] + im1[k]);
            (re1[k], im1[k]) = ((r * cos[k]) - (i * sin[k]), (r * sin[k]) + (i * cos[k]));
        }
    }

    private static void FourParted(Span<float> re0, Span<float> im0, Span<float> re1, Span<float> im1, ReadOnlySpan<float> cos, ReadOnlySpan<float> sin)
    {
        var (c, s) = (Vector128.Create(cos), Vector128.Create(sin));
        var (r0, i0) = (Vector128.Create<float>(re0), Vector128.Create<float>(im0));
        var (r1, i1) = (Vector128.Create<float>(re1), Vector128.Create<float>(im1));
        (r0 + r1).CopyTo(re0);
        (i0 + i1).CopyTo(im0);
        var (r, i) = (r0 - r1, i0 - i1);
        ((r * c) - (i * s)).CopyTo(re1);
        ((r * s) + (i * c)).CopyTo(im1);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void LastTwoStages(Span<float> re, Span<float> im)
    {
        var i = 0;
        if (Vector256.IsHardwareAccelerated)
        {
            // Two fours at a time: a, b, c, d of each stand where they are needed next, the last turned by a quarter.
            var (lower, first, second) = (Signs(1, 1, -1, -1), Signs(1, -1, 1, -1), Signs(1, -1, -1, 1));
            var last = Vector256.Create(0, 0, -1, -1, 0, 0, -1, -1).AsSingle();
            for (; i + 8 <= re.Length; i += 8)
            {
                var (r, m) = (Vector256.Create<float>(re[i..]), Vector256.Create<float>(im[i..]));
                r = Vector256.Shuffle(r, Vector256.Create(0, 1, 0, 1, 4, 5, 4, 5)) + (lower * Vector256.Shuffle(r, Vector256.Create(2, 3, 2, 3, 6, 7, 6, 7)));
                m = Vector256.Shuffle(m, Vector256.Create(0, 1, 0, 1, 4, 5, 4, 5)) + (lower * Vector256.Shuffle(m, Vector256.Create(2, 3, 2, 3, 6, 7, 6, 7)));
                var (b, d) = (Vector256.Shuffle(r, Vector256.Create(1, 1, 3, 3, 5, 5, 7, 7)), Vector256.Shuffle(m, Vector256.Create(1, 1, 3, 3, 5, 5, 7, 7)));
                (Vector256.Shuffle(r, Vector256.Create(0, 0, 2, 2, 4, 4, 6, 6)) + (first * Vector256.ConditionalSelect(last, d, b))).CopyTo(re[i..]);
                (Vector256.Shuffle(m, Vector256.Create(0, 0, 2, 2, 4, 4, 6, 6)) + (second * Vector256.ConditionalSelect(last, b, d))).CopyTo(im[i..]);
            }
        }

        for (; i < re.Length; i += 4)
        {
            var (ar, ai, cr, ci) = (re[i] + re[i + 2], im[i] + im[i + 2], re[i] - re[i + 2], im[i] - im[i + 2]);
            var (br, bi, dr, di) = (re[i + 1] + re[i + 3], im[i + 1] + im[i + 3], re[i + 1] - re[i + 3], im[i + 1] - im[i + 3]);
            (re[i], im[i], re[i + 1], im[i + 1]) = (ar + br, ai + bi, ar - br, ai - bi);
            (re[i + 2], im[i + 2], re[i + 3], im[i + 3]) = (cr + di, ci - dr, cr - di, ci + dr);
        }
    }

    private static Vector256<float> Signs(float a, float b, float c, float d) => Vector256.Create(a, b, c, d, a, b, c, d);

    private static Vector<float> At(ref float first, int place) => Vector.LoadUnsafe(ref first, (nuint)place);

    private static float[] Factors(int half, Func<double, double> of) => [.. Enumerable.Range(0, half).Select(k => (float)of(Math.PI * k / half))];

    private static int Reverse(int value, int bits)
    {
        var r = 0;
        for (var b = 0; b < bits; b++) r |= ((value >> b) & 1) << (bits - 1 - b);
        return r;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void FirstTwoStages(Span<float> re, Span<float> im)
    {
        var i = 0;
        if (Vector256.IsHardwareAccelerated)
        {
            var (first, upper, second) = (Signs(1, -1, 1, -1), Signs(1, 1, -1, -1), Signs(1, -1, -1, 1));
            var last = Vector256.Create(0, -1, 0, -1, 0, -1, 0, -1).AsSingle();
            for (; i + 8 <= re.Length; i += 8)
            {
                var (r, m) = (Vector256.Create<float>(re[i..]), Vector256.Create<float>(im[i..]));
                r = Vector256.Shuffle(r, Vector256.Create(0, 0, 2, 2, 4, 4, 6, 6)) + (first * Vector256.Shuffle(r, Vector256.Create(1, 1, 3, 3, 5, 5, 7, 7)));
                m = Vector256.Shuffle(m, Vector256.Create(0, 0, 2, 2, 4, 4, 6, 6)) + (first * Vector256.Shuffle(m, Vector256.Create(1, 1, 3, 3, 5, 5, 7, 7)));
                var (c, d) = (Vector256.Shuffle(r, Vector256.Create(2, 3, 2, 3, 6, 7, 6, 7)), Vector256.Shuffle(m, Vector256.Create(2, 3, 2, 3, 6, 7, 6, 7)));
                (Vector256.Shuffle(r, Vector256.Create(0, 1, 0, 1, 4, 5, 4, 5)) + (upper * Vector256.ConditionalSelect(last, d, c))).CopyTo(re[i..]);
                (Vector256.Shuffle(m, Vector256.Create(0, 1, 0, 1, 4, 5, 4, 5)) + (second * Vector256.ConditionalSelect(last, c, d))).CopyTo(im[i..]);
            }
        }

        for (; i < re.Length; i += 4)
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
        var bits = BitOperations.Log2((uint)half);
        ReadOnlySpan<float> cos = cosines[bits];
        ReadOnlySpan<float> sin = sines[bits];
        for (var start = 0; start < length; start += 2 * half)
        {
            Butterflies(re.Slice(start, half), im.Slice(start, half), re.Slice(start + half, half), im.Slice(start + half, half), cos, sin);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Butterflies(Span<float> re0, Span<float> im0, Span<float> re1, Span<float> im1, ReadOnlySpan<float> cos, ReadOnlySpan<float> sin)
    {
        var k = 0;
        if (re0.Length == 4 && Vector128.IsHardwareAccelerated)
        {
            FourButterflies(re0, im0, re1, im1, cos, sin);
            return;
        }

        var n = re0.Length;
        ref var r00 = ref MemoryMarshal.GetReference(re0);
        ref var i00 = ref MemoryMarshal.GetReference(im0[..n]);
        ref var r10 = ref MemoryMarshal.GetReference(re1[..n]);
        ref var i10 = ref MemoryMarshal.GetReference(im1[..n]);
        ref var cos0 = ref MemoryMarshal.GetReference(cos[..n]);
        ref var sin0 = ref MemoryMarshal.GetReference(sin[..n]);
        for (; k + Vector<float>.Count <= re0.Length; k += Vector<float>.Count)
        {
            var (c, s) = (At(ref cos0, k), At(ref sin0, k));
            var (r, i) = (At(ref r10, k), At(ref i10, k));
            var (r0, i0) = (At(ref r00, k), At(ref i00, k));
            var (tr, ti) = ((r * c) - (i * s), (r * s) + (i * c));
            (r0 - tr).StoreUnsafe(ref r10, (nuint)k);
            (i0 - ti).StoreUnsafe(ref i10, (nuint)k);
            (r0 + tr).StoreUnsafe(ref r00, (nuint)k);
            (i0 + ti).StoreUnsafe(ref i00, (nuint)k);
        }

        for (; k < re0.Length; k++)
        {
            var tr = (re1[k] * cos[k]) - (im1[k] * sin[k]);
            var ti = (re1[k] * sin[k]) + (im1[k] * cos[k]);
            (re1[k], im1[k]) = (re0[k] - tr, im0[k] - ti);
            (re0[k], im0[k]) = (re0[k] + tr, im0[k] + ti);
        }
    }

    private static void FourButterflies(Span<float> re0, Span<float> im0, Span<float> re1, Span<float> im1, ReadOnlySpan<float> cos, ReadOnlySpan<float> sin)
    {
        var (c, s) = (Vector128.Create(cos), Vector128.Create(sin));
        var (r, i) = (Vector128.Create<float>(re1), Vector128.Create<float>(im1));
        var (r0, i0) = (Vector128.Create<float>(re0), Vector128.Create<float>(im0));
        var (tr, ti) = ((r * c) - (i * s), (r * s) + (i * c));
        (r0 - tr).CopyTo(re1);
        (i0 - ti).CopyTo(im1);
        (r0 + tr).CopyTo(re0);
        (i0 + ti).CopyTo(im0);
    }
}
