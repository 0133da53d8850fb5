using System.Collections.Immutable;
using System.Diagnostics.CodeAnalysis;
using Seamwright.Audio.Decoding;
using Seamwright.Core;
using Seamwright.Core.Listening;
using Seamwright.Core.Sound.Loudness;
using Seamwright.Core.Units;

namespace Seamwright.Audio;

/// <summary>A sound file as mono samples, front to back, in bounded memory.</summary>
/// <remarks>One thread at a time. Samples are −1 to 1 at full scale (a lossy decoder may reach a little beyond).</remarks>
[SuppressMessage("Naming", "CA1711", Justification = "A stream of sound: not of bytes, but read in the same way.")]
public sealed class SoundStream : IDisposable
{
    private const int BlockFrames = 4096;

    // Two channels are looked at so far ahead: 8 MiB of samples, 22 s at 48 kHz.
    private const int MostLookAhead = 1 << 20;

    private readonly SampleSource source;
    private readonly ProblemLog log;
    private readonly SampleRepair repair;
    private readonly ChannelMix? mix;
    private readonly Queue<float[]> ahead = new();
    private readonly long mostFrames;
    private readonly IDisposable? file;
    private readonly CancellationToken cancel;
    private readonly float[] mono = new float[BlockFrames];
    private int monoAt, monoEnd;
    private long pulled;
    private readonly ZeroRuns? zeros;
    private bool chosen, ended;

    internal SoundStream(SampleSource source, ProblemLog log, AudioLimits limits, string format, IDisposable? file, CancellationToken cancel)
    {
        (this.source, this.log, this.file, this.cancel, Format) = (source, log, file, cancel, format);
        Rate = new SampleRate(source.Rate);
        repair = new SampleRepair(source, log);
        mix = source.Channels == 2 ? new ChannelMix(source.Rate, log) : null;
        zeros = source.MayLoseSomewhere ? new ZeroRuns(source.Channels, source.Rate) : null;
        mostFrames = (long)(limits.LongestHours * 3600 * source.Rate);
    }

    /// <summary>The file's own sample rate.</summary>
    public SampleRate Rate { get; }

    /// <summary>What the content was found to be, as a player knows it: <c>FLAC</c>, <c>MP3</c>.</summary>
    public string Format { get; }

    /// <summary>Everything odd met so far; complete once <see cref="Read"/> has returned 0.</summary>
    public ImmutableArray<Problem> Problems => log.All;

    /// <summary>Where the file is damaged, so that what sounds there was not played: silence stands for it, or what a decoder made of it. Where the
    /// decoder cannot say, every stretch inside the sound that is exactly silent. Complete once <see cref="Read"/> has returned 0.</summary>
    public ImmutableArray<DamagedSpan> Damage =>
        [.. source.Lost.Concat(source.IsLostSomewhere && zeros is not null ? zeros.Inside : []).OrderBy(s => s.From).Select(s => new DamagedSpan(Rate.ToSeconds(s.From), Rate.ToSeconds(s.To)))];

    /// <summary>The next samples. Damage ends the sound or becomes silence, and is told among the problems.</summary>
    /// <param name="samples">Filled as far as there is sound.</param>
    /// <returns>How many samples were written; fewer than asked for only at the end, and 0 from then on.</returns>
    /// <exception cref="OperationCanceledException">The token given at the opening was cancelled.</exception>
    public int Read(Span<float> samples)
    {
        var written = 0;
        while (written < samples.Length)
        {
            if (monoAt == monoEnd && !Refill()) break;
            var part = mono.AsSpan(monoAt, Math.Min(monoEnd - monoAt, samples.Length - written));
            part.CopyTo(samples[written..]);
            written += part.Length;
            monoAt += part.Length;
        }

        return written;
    }

    /// <summary>Loudness and highest peak of what is left, its channels apart; reads it to its end.</summary>
    public LoudnessReading Loudness()
    {
        var meter = new LoudnessMeter(Rate, source.Channels);
        while ((ahead.Count > 0 ? ahead.Dequeue() : Pull()) is { } block) meter.Add(block);
        return meter.Reading;
    }

    public void Dispose()
    {
        source.Dispose();
        file?.Dispose();
    }

    /// <summary>Decodes the first block: whether there is any sound.</summary>
    internal bool Begin()
    {
        if (Pull() is { } block) ahead.Enqueue(block);
        return ahead.Count > 0;
    }

    /// <summary>Reads on to the end.</summary>
    internal Recording ReadAll(int mostSamples)
    {
        var blocks = new List<float[]>();
        long total = 0;
        while (total < mostSamples)
        {
            var block = new float[(int)Math.Min(1 << 18, mostSamples - total)];
            var read = Read(block);
            if (read == 0) break;
            blocks.Add(read == block.Length ? block : block[..read]);
            total += read;
        }

        if (total == mostSamples && Read(new float[1]) > 0)
            log.Say($"is longer than the {total / (double)Rate.Value / 60:0.0} minutes that are read at once.", "The rest is left out; cut the recording into pieces.");
        return new Recording(Joined(blocks, (int)total), Rate) { Damage = Damage };
    }

    private static float[] Joined(List<float[]> blocks, int total)
    {
        var whole = new float[total];
        var at = 0;
        foreach (var block in blocks)
        {
            block.CopyTo(whole, at);
            at += block.Length;
        }

        return whole;
    }

    private bool Refill()
    {
        if (!chosen) LookAhead();
        var block = ahead.Count > 0 ? ahead.Dequeue() : Pull();
        if (block is null) return false;
        monoAt = 0;
        monoEnd = block.Length / source.Channels;
        if (mix is null) block.CopyTo(mono, 0);
        else mix.Process(block, mono.AsSpan(0, monoEnd));
        return true;
    }

    private void LookAhead()
    {
        chosen = true;
        if (mix is null) return;
        foreach (var block in ahead) mix.Look(block);
        for (var frames = BlockFrames; frames < MostLookAhead && !mix.HasHeardEnough && Pull() is { } block; frames += block.Length / 2)
        {
            ahead.Enqueue(block);
            mix.Look(block);
        }

        mix.Choose();
    }

    // The next block of clean samples, or null at the end, which is told of once.
    private float[]? Pull()
    {
        if (ended) return null;
        cancel.ThrowIfCancellationRequested();
        var block = new float[BlockFrames * source.Channels];
        var read = pulled >= mostFrames ? TooLong() : Decode(block);
        if (read == 0)
        {
            ended = true;
            if (pulled > 0) repair.Tell();
            return null;
        }

        if (read < block.Length) block = block[..read];
        pulled += read / source.Channels;
        zeros?.Look(block);
        repair.Process(block);
        return block;
    }

    private int TooLong()
    {
        log.Say($"is longer than {mostFrames / (double)Rate.Value / 3600:0.##} hours.", "The rest is left out; cut the recording into pieces.");
        return 0;
    }

    // Decoders of other houses meet damage that they do not expect: whatever they throw, what they gave before is kept.
    private int Decode(Span<float> block)
    {
        try
        {
            return source.Read(block);
        }
        catch (IOException e) when (e is not EndOfStreamException)
        {
            log.Say($"cannot be read beyond {pulled / (double)Rate.Value:0.00} s: {e.Message}", "What was read is used; check the disk or the connection.");
        }
        catch (Exception e) when (e is not (OperationCanceledException or OutOfMemoryException))
        {
            log.Say($"is damaged beyond {pulled / (double)Rate.Value:0.00} s and could not be decoded any further.", "What was read is used; copy the file again if the original is whole.");
        }

        return 0;
    }
}
