using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.Loudness;

/// <summary>A piece under a gain and, where it is asked for, a limiter; as long as the piece and in its time.</summary>
internal sealed class LevelledFeed : SoundFeed
{
    private readonly SoundFeed piece;
    private readonly double gain;
    private readonly Func<PeakLimiter>? makeLimiter;
    private readonly float[] coming;
    private readonly double[] gains = new double[PeakLimiter.MostFrames];
    private float[] waiting = [];
    private PeakLimiter? limiter;
    private long taken, given, length;
    private bool ended;

    /// <param name="piece">Is run.</param>
    /// <param name="gain">A factor.</param>
    /// <param name="ceiling">What the limiter holds, as an amplitude; null for none.</param>
    /// <param name="settings">Of the limiter.</param>
    public LevelledFeed(SoundFeed piece, double gain, double? ceiling, LevellingSettings settings)
        : base(piece.Rate, piece.Channels)
    {
        (this.piece, this.gain) = (piece, gain);
        coming = new float[PeakLimiter.MostFrames * Channels];
        if (ceiling is { } top) makeLimiter = () => new PeakLimiter(Rate, Channels, top, settings.LookAhead, settings.Release);
        Begin();
    }

    /// <summary>How far the limiter has pressed down so far.</summary>
    public Decibels Reduction => new(limiter is null ? 0 : -20 * Math.Log10(limiter.Lowest));

    public override int Read(Span<float> interleaved)
    {
        var whole = interleaved[..(Math.Min(interleaved.Length / Channels, PeakLimiter.MostFrames) * Channels)];
        return limiter is null ? Plain(whole) : Limited(whole, limiter);
    }

    public override void Restart()
    {
        piece.Restart();
        Begin();
    }

    private void Begin()
    {
        (taken, given, ended) = (0, 0, false);
        limiter = makeLimiter?.Invoke();
        if (limiter is not null) waiting = new float[(limiter.Delay + PeakLimiter.MostFrames) * Channels];
    }

    private int Plain(Span<float> output)
    {
        var read = piece.Read(output);
        foreach (ref var sample in output[..read]) sample = (float)(sample * gain);
        return read;
    }

    // As many frames as come in go out, those of a while ago; at the start none, at the end all that wait.
    private int Limited(Span<float> output, PeakLimiter limiter)
    {
        while (!output.IsEmpty)
        {
            var frames = Take(output.Length / Channels, limiter.Delay);
            if (frames == 0) return 0;
            var input = coming.AsSpan(0, frames * Channels);
            limiter.Process(input, gains.AsSpan(0, frames));
            Wait(input);
            var early = (int)Math.Clamp(limiter.Delay - (taken - frames), 0, frames);
            if (early == frames) continue;
            Give(output, early, frames);
            return (frames - early) * Channels;
        }

        return 0;
    }

    // The next frames of the piece under the gain, then silence until all that waits is out.
    private int Take(int most, int delay)
    {
        var read = ended ? 0 : piece.Read(coming.AsSpan(0, most * Channels)) / Channels;
        foreach (ref var sample in coming.AsSpan(0, read * Channels)) sample = (float)(sample * gain);
        taken += read;
        if (read > 0) return read;
        if (!ended) (ended, length) = (true, taken);
        var rest = (int)Math.Min(most, length + delay - taken);
        coming.AsSpan(0, rest * Channels).Clear();
        taken += rest;
        return rest;
    }

    private void Wait(ReadOnlySpan<float> input)
    {
        var frames = waiting.Length / Channels;
        for (var i = 0; i < input.Length; i++)
        {
            var frame = taken - (input.Length / Channels) + (i / Channels);
            waiting[(frame % frames * Channels) + (i % Channels)] = input[i];
        }
    }

    private void Give(Span<float> output, int early, int frames)
    {
        var ring = waiting.Length / Channels;
        for (var i = early; i < frames; i++, given++)
        {
            for (var c = 0; c < Channels; c++)
                output[((i - early) * Channels) + c] = (float)(waiting[(given % ring * Channels) + c] * gains[i]);
        }
    }
}
