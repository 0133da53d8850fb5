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
        var va = MemoryMarshal.Cast<float, Vector<float>>(a);
        var vb = MemoryMarshal.Cast<float, Vector<float>>(b[..a.Length]);
        var sum = Vector<float>.Zero;
        for (var i = 0; i < va.Length; i++) sum += va[i] * vb[i];
        var total = Vector.Sum(sum);
        for (var i = va.Length * Vector<float>.Count; i < a.Length; i++) total += a[i] * b[i];
        return total;
    }
}
