namespace Seamwright.GroundTruth.Making;

/// <summary>Takes the slow swelling out of a rendered note, so that every level after it is a known gain.</summary>
internal static class Flattening
{
    private const double Window = 0.12;

    /// <summary>Scales the samples in place to a root mean square of 1, slowly, after the attack; the attack keeps its shape.</summary>
    /// <param name="samples">One note.</param>
    /// <param name="rate">Samples a second.</param>
    /// <param name="attack">Seconds that keep the first gain.</param>
    public static void Apply(float[] samples, int rate, double attack)
    {
        var running = Running(samples);
        var half = (int)(Window * rate / 2);
        var first = (int)((attack + (Window / 2)) * rate);
        for (var i = 0; i < samples.Length; i++)
        {
            // Near the end the window keeps its length and leans back.
            var centre = Math.Clamp(Math.Max(i, first), half, Math.Max(half, samples.Length - half - 1));
            var (from, to) = (Math.Max(0, centre - half), Math.Min(samples.Length, centre + half));
            var power = (running[to] - running[from]) / Math.Max(1, to - from);
            if (power > 1e-12) samples[i] = (float)(samples[i] / Math.Sqrt(power));
        }
    }

    /// <summary>The envelope in dB every 0.1 ms, in a window of whole periods.</summary>
    public static double[] Envelope(ReadOnlySpan<float> samples, int rate, int count, Func<int, double> hertz)
    {
        var running = Running(samples);
        var level = new double[count];
        for (var i = 0; i < count; i++)
        {
            var window = Math.Max(2, Math.Ceiling(0.013 * hertz(i))) / hertz(i);
            var (from, to) = ((int)((i * Truth.Curves.Step - (window / 2)) * rate), (int)((i * Truth.Curves.Step + (window / 2)) * rate));
            (from, to) = (Math.Clamp(from, 0, samples.Length), Math.Clamp(to, 0, samples.Length));
            level[i] = 10 * Math.Log10(Math.Max(1e-10, (running[to] - running[from]) / Math.Max(1, to - from)));
        }

        return level;
    }

    private static double[] Running(ReadOnlySpan<float> samples)
    {
        var running = new double[samples.Length + 1];
        for (var i = 0; i < samples.Length; i++) running[i + 1] = running[i] + ((double)samples[i] * samples[i]);
        return running;
    }
}
