using System.Runtime.CompilerServices;

namespace Seamwright.Core.Listening;

/// <summary>Mean square of a sound over any span, from one running sum.</summary>
internal sealed class Energy
{
    /// <summary>What digital silence reads.</summary>
    public const double FloorDb = -120;

    private readonly double[] running;
    private readonly int count;
    private readonly double rate;
    private readonly double start;

    /// <param name="running">Sum of the squares up to each sample, one more than there are samples; see <see cref="Sum"/>.</param>
    /// <param name="count">How many samples.</param>
    /// <param name="rate">Samples a second.</param>
    /// <param name="start">Time of the first sample, seconds.</param>
    public Energy(double[] running, int count, int rate, double start) => (this.running, this.count, this.rate, this.start) = (running, count, rate, start);

    /// <summary>Fills the running sum of squares.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Sum(ReadOnlySpan<float> samples, double[] running)
    {
        running[0] = 0;
        var (sum, i) = (0.0, 0);
        for (; i + 4 <= samples.Length; i += 4)
        {
            // Four at a time, so that only every fourth waits for the one before.
            var (a, b, c, d) = ((double)samples[i], (double)samples[i + 1], (double)samples[i + 2], (double)samples[i + 3]);
            var (one, three) = (a * a, c * c);
            var two = one + (b * b);
            (running[i + 1], running[i + 2], running[i + 3]) = (sum + one, sum + two, sum + (two + three));
            running[i + 4] = sum += two + (three + (d * d));
        }

        for (; i < samples.Length; i++) running[i + 1] = sum += (double)samples[i] * samples[i];
    }

    /// <summary>Mean square in a rectangular window centred on a time; outside the sound is silence.</summary>
    public double MeanSquare(double centre, double width)
    {
        // A sample stands for the span half a sample to either side of its own time.
        var from = ((centre - start - (width / 2)) * rate) + 0.5;
        var to = ((centre - start + (width / 2)) * rate) + 0.5;
        return Math.Max(0, UpTo(to) - UpTo(from)) / (width * rate);
    }

    /// <summary>The same in dB relative to full scale.</summary>
    public double Db(double centre, double width) => ToDb(MeanSquare(centre, width));

    public static double ToDb(double power) => power <= 1e-12 ? FloorDb : 10 * Math.Log10(power);

    /// <summary>The ear's window at a pitch: whole periods, at least two of them, at least <paramref name="ear"/> seconds.</summary>
    public static double Window(double ear, double period) => Math.Max(2, Math.Ceiling(ear / period)) * period;

    private double UpTo(double place)
    {
        if (place <= 0) return 0;
        if (place >= count) return running[count];
        var i = (int)place;
        return running[i] + ((place - i) * (running[i + 1] - running[i]));
    }
}
