using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
namespace Seamwright.Core.Listening;

/// <summary>Finds how strongly each block of sound repeats itself at every lag, and keeps the best lags.</summary>
/// <remarks>Normalised square difference of P. McLeod and G. Wyvill, "A smarter way to find pitch" (ICMC 2005): n(τ) = 2·r(τ)/m(τ).
/// Every lag's pairs lie symmetrically about the block's centre, so a frame has no lag. Two blocks share one transform.</remarks>
internal sealed class PeriodFinder
{
    /// <summary>Samples a second it works at: enough for the harmonics that carry the pitch.</summary>
    public const int Rate = 8000;

    /// <summary>64 ms: two periods of 31 Hz.</summary>
    public const int Block = 512;

    /// <summary>Lags kept for a frame.</summary>
    public const int Kept = 6;

    private const int Size = 1024;
    private const float LeastStrength = 0.4f;

    private readonly Fourier fourier = new(Size);
    private readonly float[] re = new float[Size];
    private readonly float[] im = new float[Size];

    // Of every lag, filled up to whole vectors: how strongly the block repeats itself, and the energy of the pairs compared.
    private readonly float[] strength;
    private readonly float[] energies;
    private readonly int shortest;
    private readonly int longest;

    public PeriodFinder(double lowest, double highest)
    {
        shortest = Math.Max(2, (int)(Rate / highest) - 1);
        longest = Math.Min(Block / 2 + 24, (int)Math.Ceiling(Rate / lowest) + 2);
        var whole = (longest + Vector<float>.Count) / Vector<float>.Count * Vector<float>.Count;
        (strength, energies) = (new float[whole], new float[whole]);
    }

    /// <summary>Fills the candidates of two blocks.</summary>
    public void Process(ReadOnlySpan<float> first, ReadOnlySpan<float> second, Span<Candidate> firstFound, Span<Candidate> secondFound)
    {
        first.CopyTo(re);
        second.CopyTo(im);
        fourier.Spread(re, im);
        PowerOfBoth();
        fourier.Gather(re, im);
        Pick(first, re, firstFound);
        Pick(second, im, secondFound);
    }

    // With z = a + i·b the spectra separate by symmetry; both powers are even, so one more transform correlates both.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void PowerOfBoth()
    {
        One(0, 0);
        One(1, 1);
        var whole = Vector256<float>.Count;
        var (backwards, half) = (Vector256.Create(7, 6, 5, 4, 3, 2, 1, 0), Vector256.Create(0.5f));
        for (var stretch = 2; stretch < Size; stretch *= 2)
        {
            for (var k = 0; k < stretch / 2;)
            {
                var (p, q) = (stretch + k, (2 * stretch) - 1 - k);
                if (stretch < 2 * whole)
                {
                    One(p, q);
                    k++;
                    continue;
                }

                q -= whole - 1;
                k += whole;
                ref var r0 = ref re[p];
                ref var i0 = ref im[p];
                ref var r1 = ref re[q];
                ref var i1 = ref im[q];
                var (r, i) = (Vector256.LoadUnsafe(ref r0), Vector256.LoadUnsafe(ref i0));
                var (s, j) = (Vector256.Shuffle(Vector256.LoadUnsafe(ref r1), backwards), Vector256.Shuffle(Vector256.LoadUnsafe(ref i1), backwards));
                var (ar, ai, br, bi) = ((r + s) * half, (i - j) * half, (i + j) * half, (s - r) * half);
                var (pa, pb) = ((ar * ar) + (ai * ai), (br * br) + (bi * bi));
                pa.StoreUnsafe(ref r0);
                pb.StoreUnsafe(ref i0);
                Vector256.Shuffle(pa, backwards).StoreUnsafe(ref r1);
                Vector256.Shuffle(pb, backwards).StoreUnsafe(ref i1);
            }
        }

        void One(int k, int m)
        {
            var (ar, ai) = ((re[k] + re[m]) / 2, (im[k] - im[m]) / 2);
            var (br, bi) = ((im[k] + im[m]) / 2, (re[m] - re[k]) / 2);
            var (pa, pb) = ((ar * ar) + (ai * ai), (br * br) + (bi * bi));
            (re[k], im[k], re[m], im[m]) = (pa, pb, pa, pb);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Pick(ReadOnlySpan<float> block, ReadOnlySpan<float> correlation, Span<Candidate> found)
    {
        found.Clear();
        var energy = Vectors.Dot(block, block);
        if (energy <= 1e-9f) return;
        Normalise(block, correlation, 2 * energy);
        for (var lag = shortest + 1; lag < longest; lag++)
        {
            var s = strength[lag];
            if (s < LeastStrength || s < strength[lag - 1] || s <= strength[lag + 1]) continue;
            Keep(found, Peak(lag));
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Normalise(ReadOnlySpan<float> block, ReadOnlySpan<float> correlation, float m)
    {
        for (var lag = 0; lag <= longest; lag++)
        {
            energies[lag] = m;
            var (x, y) = (block[lag], block[block.Length - 1 - lag]);
            m -= (x * x) + (y * y);
        }

        var (least, scale) = (new Vector<float>(1e-9f), new Vector<float>(2f / Size));
        for (var lag = 0; lag < strength.Length; lag += Vector<float>.Count)
        {
            var energy = new Vector<float>(energies, lag);
            var share = scale * new Vector<float>(correlation[lag..]) / Vector.Max(least, energy);
            Vector.ConditionalSelect(Vector.GreaterThan(energy, least), share, Vector<float>.Zero).CopyTo(strength, lag);
        }

        strength.AsSpan(0, shortest).Clear();
    }

    private Candidate Peak(int lag)
    {
        var (a, b, c) = (strength[lag - 1], strength[lag], strength[lag + 1]);
        var curve = a - (2 * b) + c;
        var shift = curve < 0 ? 0.5f * (a - c) / curve : 0;
        return new(Rate / (lag + shift), Math.Min(1, b - (0.25f * (a - c) * shift)));
    }

    // A high note repeats at a dozen multiples of its period, all nearly as strong: without a price for length they would crowd it out.
    private static float Rank(Candidate c) => c.Strength <= 0 ? float.MinValue : c.Strength + (0.08f * MathF.Log2(c.Hz));

    private static void Keep(Span<Candidate> found, Candidate next)
    {
        for (var i = 0; i < found.Length; i++)
        {
            if (Rank(found[i]) < Rank(next)) (found[i], next) = (next, found[i]);
        }
    }
}

/// <summary>A pitch a block may have.</summary>
/// <param name="Hz">0 in an empty place.</param>
/// <param name="Strength">Normalised correlation, to 1; 0 in an empty place.</param>
internal readonly record struct Candidate(float Hz, float Strength);
