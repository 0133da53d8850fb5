namespace Seamwright.Core.Sound;

/// <summary>The slow unsteadiness of a person: noise through two equal low-passes at 2 Hz, of a stated root mean square.</summary>
internal sealed class Wander
{
    private const double CornerHz = 2;

    private readonly double keep, gain;
    private SeededNoise noise;
    private double first, second;

    /// <summary>A wander that begins at 0.</summary>
    /// <param name="size">Root mean square.</param>
    /// <param name="step">Seconds from value to value.</param>
    /// <param name="seed">Of the noise.</param>
    public Wander(double size, double step, uint seed)
    {
        noise = new SeededNoise(seed);
        keep = Math.Exp(-2 * Math.PI * CornerHz * step);
        gain = size / LowPass.Passed(keep);
    }

    /// <summary>The next value.</summary>
    public double Next() => gain == 0 ? 0 : gain * Next(ref noise, ref first, ref second);

    /// <summary>The mean of what comes while a note is held, weighted by how far the note is on its own. Nothing moves on.</summary>
    /// <param name="t">Seconds: the time of the next value.</param>
    /// <param name="step">Seconds from value to value.</param>
    /// <param name="held">The note.</param>
    public double Ahead(double t, double step, (double Start, double End) held)
    {
        if (gain == 0) return 0;
        var (copy, one, two) = (noise, first, second);
        var (sum, weights) = (0.0, 0.0);
        for (var i = 0; t + (i * step) < held.End; i++)
        {
            var weight = BendPath.OwnAt(t + (i * step), held);
            (sum, weights) = (sum + (weight * Next(ref copy, ref one, ref two)), weights + weight);
        }

        return weights > 0 ? gain * sum / weights : 0;
    }

    private double Next(ref SeededNoise from, ref double one, ref double two)
    {
        one = (keep * one) + ((1 - keep) * from.Uniform());
        two = (keep * two) + ((1 - keep) * one);
        return two;
    }
}

/// <summary>Two equal low-passes of one pole after one another, fed with even noise of ±1.</summary>
internal static class LowPass
{
    /// <summary>Root mean square of what comes out: even noise has the variance 1/3, and the pair passes (1−a)⁴·(1+a²)/(1−a²)³ of it,
    /// the sum of its squared impulse response.</summary>
    /// <param name="pole">a, 0 to less than 1.</param>
    public static double Passed(double pole)
    {
        var square = pole * pole;
        return Math.Sqrt(Math.Pow(1 - pole, 4) * (1 + square) / Math.Pow(1 - square, 3) / 3);
    }
}
