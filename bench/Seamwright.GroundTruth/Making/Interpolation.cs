namespace Seamwright.GroundTruth.Making;

/// <summary>Values between samples; outside, the last one holds.</summary>
internal static class Interpolation
{
    private const int Reach = 16, Steps = 512;
    private static readonly float[] Table = Windowed();

    public static double Linear(double[] values, double place)
    {
        var x = Math.Clamp(place, 0, values.Length - 1);
        var i = Math.Min((int)x, Math.Max(0, values.Length - 2));
        return values.Length < 2 ? values[0] : values[i] + ((x - i) * (values[i + 1] - values[i]));
    }

    public static double Linear(float[] values, double place)
    {
        var x = Math.Clamp(place, 0, values.Length - 1);
        var i = Math.Min((int)x, values.Length - 2);
        return values[i] + ((x - i) * (values[i + 1] - values[i]));
    }

    /// <summary>A sinc under a Blackman window, 16 samples to either side: errors below −80 dB up to 0.8 of half the rate.</summary>
    /// <param name="values">Samples.</param>
    /// <param name="place">Sample number, any fraction.</param>
    /// <param name="wrap">Whether the end is followed by the beginning.</param>
    public static float Sinc(float[] values, double place, bool wrap = false)
    {
        var whole = (int)Math.Floor(place);
        var sum = 0.0;
        var at = (place - whole) * Steps;
        var part = (int)at;
        var between = at - part;
        for (var k = -Reach + 1; k <= Reach; k++)
        {
            var i = whole + k;
            if (wrap) i = ((i % values.Length) + values.Length) % values.Length;
            else if (i < 0 || i >= values.Length) continue;
            var j = ((k + Reach - 1) * Steps) + (Steps - part);
            sum += values[i] * (Table[j] + (between * (Table[j - 1] - Table[j])));
        }

        return (float)sum;
    }

    // Weight of the sample at distance d: entry (d + Reach)·Steps.
    private static float[] Windowed()
    {
        var table = new float[(2 * Reach * Steps) + 1];
        for (var i = 0; i < table.Length; i++)
        {
            var d = (i / (double)Steps) - Reach;
            var window = 0.42 + (0.5 * Math.Cos(Math.PI * d / Reach)) + (0.08 * Math.Cos(2 * Math.PI * d / Reach));
            table[i] = (float)(d == 0 ? 1 : Math.Sin(Math.PI * d) / (Math.PI * d) * window);
        }

        return table;
    }
}
