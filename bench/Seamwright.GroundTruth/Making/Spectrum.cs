using System.Numerics;
using MathNet.Numerics.IntegralTransforms;

namespace Seamwright.GroundTruth.Making;

/// <summary>Whole sounds in the frequency domain: shaped noise, convolution, filters without delay.</summary>
internal static class Spectrum
{
    private const double LowestPink = 20;

    /// <summary>Gaussian noise of density proportional to 1/f from 20 Hz up, with a given power.</summary>
    /// <returns>The samples and the density's constant D: S(f) = D/f, one-sided.</returns>
    public static (float[] Samples, double Density) Pink(int count, int rate, double power, Random random)
    {
        var size = (int)BitOperations.RoundUpToPowerOf2((uint)count);
        var spectrum = new Complex[size];
        var density = power / Math.Log(rate / 2.0 / LowestPink);
        for (var i = 1; i < size / 2; i++)
        {
            var f = i * (double)rate / size;
            if (f < LowestPink) continue;

            // A bin of width rate/size holds density/f of it; half of that in each of the two mirrored bins.
            var deviation = Math.Sqrt(density / f * rate / size / 4);
            spectrum[i] = new Complex(ChangePlays.Normal(random, deviation), ChangePlays.Normal(random, deviation));
            spectrum[size - i] = Complex.Conjugate(spectrum[i]);
        }

        Fourier.Inverse(spectrum, FourierOptions.AsymmetricScaling);
        return ([.. spectrum.Take(count).Select(c => (float)(c.Real * size))], density);
    }

    /// <summary>A sound through a room; the result is cut to the sound's length.</summary>
    public static float[] Convolved(float[] sound, double[] response)
    {
        var size = (int)BitOperations.RoundUpToPowerOf2((uint)(sound.Length + response.Length));
        var (a, b) = (new Complex[size], new Complex[size]);
        for (var i = 0; i < sound.Length; i++) a[i] = sound[i];
        for (var i = 0; i < response.Length; i++) b[i] = response[i];
        Fourier.Forward(a, FourierOptions.AsymmetricScaling);
        Fourier.Forward(b, FourierOptions.AsymmetricScaling);
        for (var i = 0; i < size; i++) a[i] *= b[i];
        Fourier.Inverse(a, FourierOptions.AsymmetricScaling);
        return [.. a.Take(sound.Length).Select(c => (float)c.Real)];
    }

    /// <summary>The size of a low-pass of Butterworth's fourth order, with no delay at all.</summary>
    public static float[] LowPassed(float[] sound, int rate, double hz)
    {
        var size = (int)BitOperations.RoundUpToPowerOf2((uint)sound.Length);
        var a = new Complex[size];
        for (var i = 0; i < sound.Length; i++) a[i] = sound[i];
        Fourier.Forward(a, FourierOptions.AsymmetricScaling);
        for (var i = 0; i < size; i++)
        {
            var f = Math.Min(i, size - i) * (double)rate / size;
            a[i] /= Math.Sqrt(1 + Math.Pow(f / hz, 8));
        }

        Fourier.Inverse(a, FourierOptions.AsymmetricScaling);
        return [.. a.Take(sound.Length).Select(c => (float)c.Real)];
    }
}
