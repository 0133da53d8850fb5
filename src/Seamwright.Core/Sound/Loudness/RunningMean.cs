namespace Seamwright.Core.Sound.Loudness;

/// <summary>The mean of the last values; before the first one all were 1.</summary>
internal sealed class RunningMean
{
    private readonly double[] values;
    private double sum;
    private int at;

    /// <param name="length">How many.</param>
    public RunningMean(int length)
    {
        values = new double[length];
        Array.Fill(values, 1);
        sum = length;
    }

    public double Next(double value)
    {
        sum += value - values[at];
        values[at] = value;
        at = (at + 1) % values.Length;

        // Once a round from scratch, so that rounding cannot pile up.
        if (at == 0) sum = values.Sum();
        return sum / values.Length;
    }
}
