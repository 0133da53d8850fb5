using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.Loudness;

/// <summary>A filter of second order, transposed direct form II. Mutable: pass it by reference.</summary>
/// <param name="b0">Of the input; a0 is 1.</param>
/// <param name="b1">Of the input before.</param>
/// <param name="b2">Of the input before that.</param>
/// <param name="a1">Of the output before.</param>
/// <param name="a2">Of the output before that.</param>
internal struct Biquad(double b0, double b1, double b2, double a1, double a2)
{
    // 600 dB below full scale.
    private const double Nothing = 1e-30;

    private double first, second;

    public readonly (double B0, double B1, double B2, double A1, double A2) Coefficients => (b0, b1, b2, a1, a2);

    /// <summary>(top·s² + middle·s/Q + bottom) ÷ (s² + s/Q + 1) by the bilinear transform, exact at the corner.</summary>
    /// <param name="corner">Hz, below half the rate; s is relative to it.</param>
    /// <param name="q">Quality of the poles.</param>
    /// <param name="top">Gain far above the corner.</param>
    /// <param name="middle">Gain at the corner, against its quality.</param>
    /// <param name="bottom">Gain far below the corner.</param>
    /// <param name="rate">Of the samples.</param>
    public static Biquad FromAnalogue(double corner, double q, double top, double middle, double bottom, SampleRate rate)
    {
        var k = Math.Tan(Math.PI * corner / rate.Value);
        var a0 = 1 + (k / q) + (k * k);
        return new Biquad(
            (top + (middle * k / q) + (bottom * k * k)) / a0,
            2 * ((bottom * k * k) - top) / a0,
            (top - (middle * k / q) + (bottom * k * k)) / a0,
            2 * ((k * k) - 1) / a0,
            (1 - (k / q) + (k * k)) / a0);
    }

    public double Process(double x)
    {
        var y = (b0 * x) + first;
        first = (b1 * x) - (a1 * y) + second;
        second = (b2 * x) - (a2 * y);
        return y;
    }

    /// <summary>Ends a tail too small to matter, whose numbers would become slow to reckon with.</summary>
    public void Settle()
    {
        if (Math.Abs(first) < Nothing && Math.Abs(second) < Nothing) Reset();
    }

    public void Reset() => (first, second) = (0, 0);
}
