using Seamwright.Core.Listening;

namespace Seamwright.Tests.Listening;

/// <summary>The pitch's way through a change, found by warping until the sound repeats itself.</summary>
public class WarpFitTests
{
    private const int Rate = FinePitch.Rate;
    private const double Seconds = 0.5;
    private const double Jump = 0.25;

    // Six harmonics on one phase, from 98 Hz up a fifth in 8 ms; the guess jumps elsewhere.
    [Theory]
    [InlineData(-0.004)]
    [InlineData(0.004)]
    public void A_jump_is_found_where_it_is_without_any_windows_blur(double late)
    {
        var (sound, fit) = (Sound(), new WarpFit());
        fit.Load(sound, Squares(sound), 0, 1 / 98.0, 0);
        var grid = new PitchWay(0.1, 0.002, new double[150]);
        var guess = grid.Along(t => Math.Log2(Truth(t - late)));
        var found = fit.Solve(guess);
        Assert.True(found.Cost < fit.Read(guess).Cost);
        Assert.InRange(found.Misfit.Average(), 0, 0.025);
        for (var t = 0.15; t < 0.34; t += 0.005)
        {
            if (Math.Abs(t - Jump) > 0.006) Assert.InRange(1200 * Math.Log2(found.Way.Hz(t) / Truth(t)), -20, 20);
        }
    }

    [Fact]
    public void A_band_is_solved_as_the_whole_matrix_is()
    {
        const int Size = 9;
        var (random, band) = (new Random(5), new BandedSystem(Size, 4));
        var (matrix, right) = (MathNet.Numerics.LinearAlgebra.Matrix<double>.Build.Dense(Size, Size), MathNet.Numerics.LinearAlgebra.Vector<double>.Build.Dense(Size));
        for (var n = 0; n < 60; n++)
        {
            var (first, slopes, missing, weight) = (random.Next(Size - 3), new double[4 + BandedSystem.Padding], random.NextDouble() - 0.5, 0.1 + random.NextDouble());
            for (var k = 0; k < 4; k++) slopes[k] = random.NextDouble() - 0.5;
            band.Add(first, 4, slopes, missing, weight);
            for (var k = 0; k < 4; k++)
            {
                right[first + k] += weight * slopes[k] * missing;
                for (var m = 0; m < 4; m++) matrix[first + k, first + m] += weight * slopes[k] * slopes[m];
            }
        }

        var step = new double[Size];
        band.Solve(0, step);
        var expected = matrix.Solve(right);
        for (var k = 0; k < Size; k++) Assert.Equal(expected[k], step[k], 6);
    }

    [Fact]
    public void Ten_bits_keep_a_sound_and_a_stretch_can_be_put_in_its_place()
    {
        var (store, sound) = (new SampleStore(), Sound());
        store.Append(sound);
        Assert.InRange(Error(store, sound), 0, Math.Pow(10, -60 / 20.0) * sound.Max(Math.Abs));
        float[] other = [.. sound.Select(x => -0.5f * x)];
        store.Replace(256, other.AsSpan(256));
        sound.AsSpan(0, 256).CopyTo(other);
        Assert.InRange(Error(store, other), 0, Math.Pow(10, -60 / 20.0) * sound.Max(Math.Abs));
    }

    // Root mean square.
    private static double Error(SampleStore store, float[] wanted)
    {
        var kept = new float[wanted.Length];
        store.CopyTo(0, kept);
        return Math.Sqrt(kept.Zip(wanted, (a, b) => (double)(a - b) * (a - b)).Average());
    }

    private static double Truth(double t)
    {
        var x = Math.Clamp(((t - Jump) / 0.008) + 0.5, 0, 1);
        return 98 * Math.Pow(1.5, (1 - Math.Cos(Math.PI * x)) / 2);
    }

    private static float[] Sound()
    {
        var (samples, phase) = (new float[(int)(Seconds * Rate)], 0.0);
        for (var i = 0; i < samples.Length; i++)
        {
            for (var k = 1; k <= 6; k++) samples[i] += (float)(0.1 * Math.Sin((2 * Math.PI * k * phase) + k) / k);
            phase += Truth(i / (double)Rate) / Rate;
        }

        return samples;
    }

    private static double[] Squares(float[] sound)
    {
        var sums = new double[sound.Length + 1];
        Energy.Sum(sound, sums);
        return sums;
    }
}
