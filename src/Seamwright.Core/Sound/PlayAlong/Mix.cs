using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.PlayAlong;

internal enum Ear
{
    Left, Right,
}

/// <summary>A mono feed and the ear that hears it where ears are split.</summary>
internal sealed record Layer(SoundFeed Feed, Ear Ear);

/// <summary>The sum of layers, block by block: mono, or one ear each.</summary>
internal sealed class Mix : SoundFeed
{
    private const int Most = 4096;

    private readonly IReadOnlyList<Layer> layers;
    private readonly long length;
    private readonly float[] part = new float[Most];
    private long now;

    /// <param name="layers">Mono, each at least as long as asked; begun again by this one alone.</param>
    /// <param name="rate">Of all of them.</param>
    /// <param name="split">Two channels.</param>
    /// <param name="length">Frames.</param>
    public Mix(IReadOnlyList<Layer> layers, SampleRate rate, bool split, long length)
        : base(rate, split ? 2 : 1)
    {
        (this.layers, this.length) = (layers, length);
        Restart();
    }

    public override int Read(Span<float> interleaved)
    {
        var frames = (int)Math.Min(Math.Min(Most, interleaved.Length / Channels), length - now);
        var block = interleaved[..(frames * Channels)];
        block.Clear();
        foreach (var layer in layers)
        {
            Fill(layer.Feed, part.AsSpan(0, frames));
            var channel = Channels == 2 && layer.Ear == Ear.Right ? 1 : 0;
            for (var i = 0; i < frames; i++) block[(i * Channels) + channel] += part[i];
        }

        now += frames;
        return block.Length;
    }

    public override void Restart()
    {
        now = 0;
        foreach (var layer in layers) layer.Feed.Restart();
    }

    private static void Fill(SoundFeed feed, Span<float> span)
    {
        while (!span.IsEmpty)
        {
            var read = feed.Read(span);
            if (read == 0) span.Clear();
            span = read == 0 ? [] : span[read..];
        }
    }
}
