using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.Loudness;

/// <summary>A gain for every frame such that no true peak exceeds a ceiling: it yields before a peak comes, and both channels alike.</summary>
/// <remarks>
/// Each frame's own need is ceiling ÷ peak; the lowest need of the coming look-ahead, given back slowly, is smoothed by two
/// averages which together reach no further back than the look-ahead did forward: so the smoothed gain never exceeds a frame's own
/// need, and its course has no corners. Only the change of gain within the reach of the interpolation can lift a peak again, by a
/// few hundredths of a decibel: whoever needs certainty measures. Allocates nothing after construction.
/// </remarks>
internal sealed class PeakLimiter
{
    public const int MostFrames = 1024;

    private readonly PeakInterpolator[] interpolators;
    private readonly SlidingLowest lowest;
    private readonly RunningMean mean, meanOfMean;
    private readonly float ceiling;
    private readonly double keep;
    private readonly float[] peaks = new float[MostFrames], others = new float[MostFrames];
    private float before;
    private double released = 1;

    /// <param name="rate">Of the frames.</param>
    /// <param name="channels">1 or 2.</param>
    /// <param name="ceiling">Amplitude of the highest point.</param>
    /// <param name="lookAhead">At least a few frames.</param>
    /// <param name="release">In which it gives back 63 %.</param>
    public PeakLimiter(SampleRate rate, int channels, double ceiling, Seconds lookAhead, Seconds release)
    {
        var half = Math.Max(2, (int)rate.ToSamples(lookAhead) / 2);
        interpolators = [.. Enumerable.Range(0, channels).Select(_ => new PeakInterpolator(rate))];
        lowest = new SlidingLowest((2 * half) - 1);
        (mean, meanOfMean) = (new RunningMean(half), new RunningMean(half));
        this.ceiling = (float)ceiling;
        keep = Math.Exp(-1 / (release.Value * rate.Value));
        Delay = PeakInterpolator.Delay + (2 * half) - 2;
    }

    /// <summary>So many frames later a frame's gain comes out.</summary>
    public int Delay { get; }

    /// <summary>The lowest gain so far, 0 to 1.</summary>
    public double Lowest { get; private set; } = 1;

    /// <summary>Takes frames and gives for each the gain of the frame <see cref="Delay"/> before it.</summary>
    /// <param name="interleaved">Whole frames.</param>
    /// <param name="gains">One for each frame, at most <see cref="MostFrames"/>.</param>
    public void Process(ReadOnlySpan<float> interleaved, Span<double> gains)
    {
        var part = peaks.AsSpan(0, gains.Length);
        var other = others.AsSpan(0, gains.Length);
        interpolators[0].Process(interleaved, interpolators.Length, part, ceiling);
        if (interpolators.Length == 2)
        {
            interpolators[1].Process(interleaved[1..], 2, other, ceiling);
            for (var i = 0; i < part.Length; i++) part[i] = Math.Max(part[i], other[i]);
        }

        for (var i = 0; i < part.Length; i++) gains[i] = Next(part[i]);
    }

    private double Next(float peak)
    {
        // The curve on both sides of a frame is lifted by its gain.
        var need = Math.Min(1.0, ceiling / Math.Max(ceiling, Math.Max(before, peak)));
        before = peak;
        released = Math.Min(lowest.Next(need), 1 - ((1 - released) * keep));
        var gain = meanOfMean.Next(mean.Next(released));
        Lowest = Math.Min(Lowest, gain);
        return gain;
    }
}
