using Seamwright.Core.Units;

namespace Seamwright.Core.Planning;

/// <summary>The arm's movement from one place to another: x(τ) = D·(10τ³ − 15τ⁴ + 6τ⁵), τ = t/T.</summary>
/// <remarks>Flash and Hogan, "The coordination of arm movements", J. Neurosci. 5 (1985) 1688–1703. Half way at T/2, symmetric.</remarks>
public static class MinimumJerk
{
    /// <summary>Peak speed over mean speed: 15/8.</summary>
    public const double PeakOverMean = 1.875;

    /// <summary>Share of the time spent between a tenth and nine tenths of the distance, about 0.507.</summary>
    public static readonly double TenToNinety = TimeAt(0.9) - TimeAt(0.1);

    /// <summary>Share of the distance covered.</summary>
    /// <param name="tau">Share of the time, 0 to 1; outside it the arm rests.</param>
    public static double Progress(double tau)
    {
        var t = Math.Clamp(tau, 0, 1);
        return t * t * t * (10 + (t * (-15 + (6 * t))));
    }

    /// <summary>The inverse of <see cref="Progress"/>, by bisection to 1e-12.</summary>
    /// <param name="progress">0 to 1.</param>
    public static double TimeAt(double progress)
    {
        double low = 0, high = 1;
        while (high - low > 1e-12)
        {
            var middle = (low + high) / 2;
            if (Progress(middle) < progress) low = middle;
            else high = middle;
        }

        return (low + high) / 2;
    }

    /// <summary>Peak speed in m/s.</summary>
    /// <param name="distance">How far.</param>
    /// <param name="time">How long, greater than 0.</param>
    public static double PeakSpeed(Centimetres distance, Seconds time) => PeakOverMean * Math.Abs(distance.Metres) / time.Value;
}
