using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace Seamwright.Core.Listening;

/// <summary>Sums over spans, several samples at a time.</summary>
internal static class Vectors
{
    /// <summary>Σ a·b over spans of equal length.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static float Dot(ReadOnlySpan<float> a, ReadOnlySpan<float> b)
    {
        // Four sums, so that none waits for the one before.
        var step = Vector<float>.Count;
        var (s0, s1, s2, s3) = (Vector<float>.Zero, Vector<float>.Zero, Vector<float>.Zero, Vector<float>.Zero);
        ref var x = ref MemoryMarshal.GetReference(a);
        ref var y = ref MemoryMarshal.GetReference(b[..a.Length]);
        var i = 0;
        for (; i + (4 * step) <= a.Length; i += 4 * step)
        {
            s0 += Load(ref x, i) * Load(ref y, i);
            s1 += Load(ref x, i + step) * Load(ref y, i + step);
            s2 += Load(ref x, i + (2 * step)) * Load(ref y, i + (2 * step));
            s3 += Load(ref x, i + (3 * step)) * Load(ref y, i + (3 * step));
        }

        for (; i + step <= a.Length; i += step) s0 += Load(ref x, i) * Load(ref y, i);
        if (i < a.Length && a.Length >= step)
        {
            // The last whole vector once more: of it only what is not counted yet.
            var last = a.Length - step;
            var uncounted = Vector.GreaterThanOrEqual(Vector.CreateSequence(last, 1), new Vector<int>(i));
            s1 += Vector.ConditionalSelect(uncounted, Load(ref x, last) * Load(ref y, last), Vector<float>.Zero);
            i = a.Length;
        }

        var total = Vector.Sum(s0 + s1 + (s2 + s3));
        for (; i < a.Length; i++) total += a[i] * b[i];
        return total;
    }

    /// <summary>Σ a·b, added in the order in which <see cref="FourDots"/> adds: the same to the last bit.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static float OneOfFour(ReadOnlySpan<float> a, ReadOnlySpan<float> b)
    {
        var step = Vector<float>.Count;
        var sum = Vector<float>.Zero;
        ref var x = ref MemoryMarshal.GetReference(a);
        ref var y = ref MemoryMarshal.GetReference(b[..a.Length]);
        var i = 0;
        for (; i + step <= a.Length; i += step) sum += Load(ref x, i) * Load(ref y, i);
        var total = Vector.Sum(sum);
        for (; i < a.Length; i++) total += a[i] * b[i];
        return total;
    }

    /// <summary>Σ a·b for four stretches of one sound, each so many samples after the one before.</summary>
    /// <param name="a">As long as each stretch.</param>
    /// <param name="b">From the first stretch's beginning to the last one's end.</param>
    /// <param name="apart">Samples, positive.</param>
    /// <param name="sums">Four figures.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void FourDots(ReadOnlySpan<float> a, ReadOnlySpan<float> b, int apart, Span<float> sums)
    {
        var step = Vector<float>.Count;
        var (s0, s1, s2, s3) = (Vector<float>.Zero, Vector<float>.Zero, Vector<float>.Zero, Vector<float>.Zero);
        ref var x = ref MemoryMarshal.GetReference(a);
        ref var y = ref MemoryMarshal.GetReference(b[..(a.Length + (3 * apart))]);
        var i = 0;
        for (; i + step <= a.Length; i += step)
        {
            var here = Load(ref x, i);
            s0 += here * Load(ref y, i);
            s1 += here * Load(ref y, i + apart);
            s2 += here * Load(ref y, i + (2 * apart));
            s3 += here * Load(ref y, i + (3 * apart));
        }

        var (t0, t1, t2, t3) = (Vector.Sum(s0), Vector.Sum(s1), Vector.Sum(s2), Vector.Sum(s3));
        for (; i < a.Length; i++)
        {
            t0 += a[i] * b[i];
            t1 += a[i] * b[i + apart];
            t2 += a[i] * b[i + (2 * apart)];
            t3 += a[i] * b[i + (3 * apart)];
        }

        (sums[0], sums[1], sums[2], sums[3]) = (t0, t1, t2, t3);
    }

    /// <summary>Σ a·b over spans of equal length.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        var step = Vector<double>.Count;
        var (s0, s1) = (Vector<double>.Zero, Vector<double>.Zero);
        ref var x = ref MemoryMarshal.GetReference(a);
        ref var y = ref MemoryMarshal.GetReference(b[..a.Length]);
        var i = 0;
        for (; i + (2 * step) <= a.Length; i += 2 * step)
        {
            s0 += Load(ref x, i) * Load(ref y, i);
            s1 += Load(ref x, i + step) * Load(ref y, i + step);
        }

        var total = Vector.Sum(s0 + s1);
        for (; i < a.Length; i++) total += a[i] * b[i];
        return total;
    }

    private static Vector<double> Load(ref double first, int at) => Vector.LoadUnsafe(ref first, (nuint)at);

    private static Vector<float> Load(ref float first, int at) => Vector.LoadUnsafe(ref first, (nuint)at);
}
