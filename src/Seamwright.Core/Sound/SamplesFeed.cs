using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

/// <summary>Samples that lie in memory, as a feed.</summary>
public sealed class SamplesFeed : SoundFeed
{
    private readonly ReadOnlyMemory<float> samples;
    private int at;

    /// <param name="samples">Channels interleaved; not copied.</param>
    /// <param name="rate">8,000 to 192,000 Hz.</param>
    /// <param name="channels">1 or 2.</param>
    /// <exception cref="ArgumentException">The samples are no whole number of frames.</exception>
    public SamplesFeed(ReadOnlyMemory<float> samples, SampleRate rate, int channels = 1)
        : base(rate, channels)
    {
        if (samples.Length % channels != 0) throw new ArgumentException($"{samples.Length} samples are no whole number of frames of {channels}.", nameof(samples));
        this.samples = samples;
    }

    public override int Read(Span<float> interleaved)
    {
        var count = Math.Min(interleaved.Length / Channels * Channels, samples.Length - at);
        samples.Span.Slice(at, count).CopyTo(interleaved);
        at += count;
        return count;
    }

    public override void Restart() => at = 0;
}
