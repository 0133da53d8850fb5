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

    /// <summary>From where it leaves its first pitch to where it has reached its last.</summary>
    /// <param name="cents">So far it may stray and still be there.</param>
    public (double From, double To) Moving(double cents)
    {
        var (first, last) = (0, Octaves.Length - 1);
        while (first < last && Math.Abs(Octaves[first + 1] - Octaves[0]) < cents / 1200) first++;
        while (last > first && Math.Abs(Octaves[last - 1] - Octaves[^1]) < cents / 1200) last--;
        return (Start + (first * Step), Start + (last * Step));
    }

    /// <summary>The same knots with other values.</summary>
    public PitchWay With(double[] values) => new(Start, Step, values);

    /// <summary>The same knots along a function of time, asked in order.</summary>
    public PitchWay Along(Func<double, double> octaves)
    {
        var values = new double[Octaves.Length];
        for (var k = 0; k < values.Length; k++) values[k] = octaves(Start + (k * Step));
        return With(values);
    }

    /// <summary>Hz at a time.</summary>
    public double Hz(double t) => Math.Pow(2, At(t));
}
