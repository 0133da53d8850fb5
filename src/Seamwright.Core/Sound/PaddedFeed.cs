using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

/// <summary>A feed with silence before and after it.</summary>
public sealed class PaddedFeed : SoundFeed
{
    private readonly SoundFeed inner;
    private readonly long before, after;
    private long silent;
    private bool begun, ended;

    /// <param name="inner">Begun again by this one.</param>
    /// <param name="before">Silence before it, 0 or more.</param>
    /// <param name="after">Silence after it, 0 or more.</param>
    public PaddedFeed(SoundFeed inner, Seconds before, Seconds after)
        : base(inner.Rate, inner.Channels)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(before.Value);
        ArgumentOutOfRangeException.ThrowIfNegative(after.Value);
        (this.inner, this.before, this.after) = (inner, inner.Rate.ToSamples(before), inner.Rate.ToSamples(after));
        Restart();
    }

    /// <inheritdoc/>
    public override int Read(Span<float> interleaved)
    {
        if (begun && !ended)
        {
            var read = inner.Read(interleaved);
            if (read > 0 || interleaved.IsEmpty) return read;
            (ended, silent) = (true, after);
        }

        var quiet = interleaved[..(Channels * (int)Math.Min(interleaved.Length / Channels, silent))];
        quiet.Clear();
        silent -= quiet.Length / Channels;
        if (begun || silent > 0) return quiet.Length;
        begun = true;
        return quiet.Length > 0 ? quiet.Length : Read(interleaved);
    }

    /// <inheritdoc/>
    public override void Restart()
    {
        inner.Restart();
        (begun, ended, silent) = (false, false, before);
    }
}
