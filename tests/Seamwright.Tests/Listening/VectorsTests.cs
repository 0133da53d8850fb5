using Seamwright.Core.Listening;

namespace Seamwright.Tests.Listening;

/// <summary>Sums over spans against the plain sums they stand for.</summary>
public class VectorsTests
{
    [Fact]
    public void A_product_of_any_length_is_the_plain_sum()
    {
        var random = new Random(5);
        for (var length = 0; length < 90; length++)
        {
            var (a, b) = (Noise(random, length), Noise(random, length));
            Assert.Equal(Plain(a, b), Vectors.Dot(a, b), 1e-4);
        }
    }

    [Theory]
    [InlineData(156, 3)]
    [InlineData(104, 2)]
    [InlineData(61, 5)]
    public void Four_stretches_at_once_are_four_products(int length, int apart)
    {
        var random = new Random(6);
        var (a, b, sums) = (Noise(random, length), Noise(random, length + (3 * apart)), new float[4]);
        Vectors.FourDots(a, b, apart, sums);
        for (var k = 0; k < 4; k++)
        {
            Assert.Equal(Plain(a, b.AsSpan(k * apart, length)), sums[k], 1e-4);
            Assert.Equal(Vectors.OneOfFour(a, b.AsSpan(k * apart, length)), sums[k]); // to the last bit
        }
    }

    [Fact]
    public void A_running_sum_of_squares_is_the_plain_one()
    {
        var samples = Noise(new Random(7), 1003);
        var (running, sum) = (new double[samples.Length + 1], 0.0);
        Energy.Sum(samples, running);
        for (var i = 0; i < samples.Length; i++)
        {
            sum += (double)samples[i] * samples[i];
            Assert.Equal(sum, running[i + 1], 1e-11);
        }
    }

    [Theory]
    [InlineData(48000, 16000)]
    [InlineData(44100, 16000)]
    [InlineData(16000, 8000)]
    public void Resampling_in_odd_blocks_is_the_defining_sum(int from, int to)
    {
        var input = Noise(new Random(8), 2001);
        var (resampler, output) = (new Resampler(from, to), new SlidingBuffer());
        for (var at = 0; at < input.Length; at += 97) resampler.Push(input.AsSpan(at, Math.Min(97, input.Length - at)), output);
        resampler.Finish(output);
        Assert.Equal(((input.Length * (long)to) + from - 1) / from, output.Length);
        for (var n = 0; n < output.Length; n++) Assert.Equal(Resampler.Slow(input, from, to, n), output.From(n)[0], 1e-3);
    }

    private static double Plain(ReadOnlySpan<float> a, ReadOnlySpan<float> b)
    {
        var sum = 0.0;
        for (var i = 0; i < a.Length; i++) sum += (double)a[i] * b[i];
        return sum;
    }

    private static float[] Noise(Random random, int length) => [.. Enumerable.Range(0, length).Select(_ => (float)((2 * random.NextDouble()) - 1))];
}
