using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

/// <summary>A finished piece of sound that is pulled front to back in blocks, and can be begun again.</summary>
/// <remarks>So an hour need not lie in memory: whoever makes sound makes it as it is asked for. One thread at a time.</remarks>
public abstract class SoundFeed
{
    /// <param name="rate">8,000 to 192,000 Hz.</param>
    /// <param name="channels">1, or 2 for left and right.</param>
    /// <exception cref="ArgumentOutOfRangeException">Rate or channels are beyond that.</exception>
    protected SoundFeed(SampleRate rate, int channels)
    {
        CheckShape(rate, channels);
        (Rate, Channels) = (rate, channels);
    }

    /// <summary>Frames in a second.</summary>
    public SampleRate Rate { get; }

    /// <summary>1 for mono, 2 for stereo.</summary>
    public int Channels { get; }

    /// <summary>The next frames.</summary>
    /// <param name="interleaved">Filled from its beginning; a whole number of frames long. Full scale is ±1.</param>
    /// <returns>How many floats were written, always whole frames; fewer than asked for is allowed, 0 only at the end and from then on.</returns>
    public abstract int Read(Span<float> interleaved);

    /// <summary>Back to the beginning: the same samples come again.</summary>
    public abstract void Restart();

    /// <summary>Refuses what no feed may be.</summary>
    /// <exception cref="ArgumentOutOfRangeException">It is.</exception>
    internal static void CheckShape(SampleRate rate, int channels)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(rate.Value, 8_000);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(rate.Value, 192_000);
        ArgumentOutOfRangeException.ThrowIfLessThan(channels, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(channels, 2);
    }
}
