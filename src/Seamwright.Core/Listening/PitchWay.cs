namespace Seamwright.Core.Listening;

/// <summary>A pitch as a function of time: straight lines between evenly spaced knots, in octaves.</summary>
/// <param name="start">Time of the first knot, seconds.</param>
/// <param name="step">Between knots, seconds.</param>
/// <param name="octaves">Base-2 logarithm of Hz at each knot; at least one.</param>
internal sealed class PitchWay(double start, double step, double[] octaves)
{
    public double Start { get; } = start;

    public double Step { get; } = step;

    public double[] Octaves { get; } = octaves;

    public double End => Start + (Step * (Octaves.Length - 1));

    /// <summary>Base-2 logarithm of Hz; beyond the ends as at them.</summary>
    public double At(double t)
    {
        var x = Math.Clamp((t - Start) / Step, 0, Octaves.Length - 1);
        var i = Math.Min((int)x, Octaves.Length - 2);
        return i < 0 ? Octaves[0] : Octaves[i] + ((x - i) * (Octaves[i + 1] - Octaves[i]));
    }

    /// <summary>Hz at a time.</summary>
    public double Hz(double t) => Math.Pow(2, At(t));
}
