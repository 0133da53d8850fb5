using Seamwright.Core.Listening;

namespace Seamwright.Tests.Listening;

/// <summary>Transforms against the sum that defines them.</summary>
public class FourierTests
{
    private const int Length = 64;

    [Fact]
    public void It_is_the_sum_that_defines_it()
    {
        var (re, im) = (Noise(1, Length), Noise(2, Length));
        var (wantedRe, wantedIm) = Sum(re, im);
        new Fourier(Length).Forward(re, im);
        AssertNear(wantedRe, re);
        AssertNear(wantedIm, im);
    }

    [Fact]
    public void Half_a_sound_gives_the_same_in_the_order_of_reversed_bits_and_that_is_gathered_again()
    {
        var (re, im) = (Noise(1, Length / 2), Noise(2, Length / 2));
        var (wantedRe, wantedIm) = Sum(re, im);
        (re[^1], im[^1]) = (7, 7);
        var fourier = new Fourier(Length);
        fourier.Spread(re, im);
        AssertNear([.. Enumerable.Range(0, Length).Select(i => wantedRe[Reversed(i)])], re);
        AssertNear([.. Enumerable.Range(0, Length).Select(i => wantedIm[Reversed(i)])], im);
        var (againRe, againIm) = Sum([.. wantedRe], [.. wantedIm]);
        fourier.Gather(re, im);
        AssertNear(againRe, re);
        AssertNear(againIm, im);
    }

    private static int Reversed(int value) => Enumerable.Range(0, 6).Sum(b => ((value >> b) & 1) << (5 - b));

    private static float[] Noise(int seed, int filled)
    {
        var random = new Random(seed);
        return [.. Enumerable.Range(0, Length).Select(i => i < filled ? (float)(random.NextDouble() - 0.5) : 0)];
    }

    private static (float[] Re, float[] Im) Sum(float[] re, float[] im)
    {
        var sums = Enumerable.Range(0, Length).Select(k => Enumerable.Range(0, Length).Aggregate(
            System.Numerics.Complex.Zero, (sum, n) => sum + (new System.Numerics.Complex(re[n], im[n]) * System.Numerics.Complex.Exp(new(0, -2 * Math.PI * k * n / Length)))));
        return ([.. sums.Select(s => (float)s.Real)], [.. sums.Select(s => (float)s.Imaginary)]);
    }

    private static void AssertNear(float[] wanted, float[] found)
    {
        for (var i = 0; i < wanted.Length; i++) Assert.InRange(found[i], wanted[i] - 1e-3f, wanted[i] + 1e-3f);
    }
}
