namespace Seamwright.Core.Sound.Loudness;

/// <summary>The gates of ITU-R BS.1770-5, annex 1: blocks of 400 ms, one every 100 ms; those above −70 LUFS count, and of them those
/// no more than 10 LU below their mean.</summary>
/// <remarks>Keeps eight bytes for a tenth of a second: 288 kB an hour, so that the gates are exact.</remarks>
internal sealed class GatedLoudness
{
    private const double AbsoluteGate = -70, RelativeGate = -10, Offset = -0.691;
    private const int StepsInBlock = 4;

    private readonly List<double> blocks = [];
    private readonly double[] sums = new double[StepsInBlock];
    private readonly long[] lengths = new long[StepsInBlock];
    private long steps;

    /// <summary>The gated loudness so far; null where no block is above the absolute gate.</summary>
    public Lufs? Integrated
    {
        get
        {
            if (blocks.Count == 0) return null;
            var gate = blocks.Average() * Math.Pow(10, RelativeGate / 10);
            return new Lufs(Loudness(blocks.Where(b => b > gate).Average()));
        }
    }

    /// <summary>The next 100 ms.</summary>
    /// <param name="sum">Of the weighted squares of all channels.</param>
    /// <param name="frames">How many there were.</param>
    public void Add(double sum, long frames)
    {
        (sums[steps % StepsInBlock], lengths[steps % StepsInBlock]) = (sum, frames);
        steps++;
        if (steps < StepsInBlock) return;
        var mean = sums.Sum() / lengths.Sum();
        if (mean > 0 && Loudness(mean) > AbsoluteGate) blocks.Add(mean);
    }

    public void Reset()
    {
        blocks.Clear();
        steps = 0;
    }

    private static double Loudness(double mean) => Offset + (10 * Math.Log10(mean));
}
