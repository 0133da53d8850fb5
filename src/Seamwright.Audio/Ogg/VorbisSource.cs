using NVorbis;
using Seamwright.Audio.Decoding;

namespace Seamwright.Audio.Ogg;

/// <summary>Vorbis in Ogg, decoded by NVorbis, in the time of the original.</summary>
internal sealed class VorbisSource : SampleSource
{
    // Frames; seconds; seconds, and more than that is not a gap but a false number.
    private const int Step = 256, LongestPage = 5, LongestGap = 60;

    private readonly OggPages pages;
    private readonly VorbisPackets packets;
    private readonly StreamDecoder decoder;
    private readonly ProblemLog log;
    private readonly LostSound lost;
    private long position, silence;
    private Memory<float> waiting;
    private bool told;

    private VorbisSource(OggPages pages, VorbisPackets packets, ProblemLog log)
    {
        (this.pages, this.packets, this.log) = (pages, packets, log);
        lost = new LostSound(log);
        decoder = new StreamDecoder(packets) { ClipSamples = false };
    }

    public override int Channels => decoder.Channels;

    public override int Rate => decoder.SampleRate;

    public override IReadOnlyList<LostSpan> Lost => lost.Spans;

    /// <param name="pages">After the first page of the stream.</param>
    /// <param name="first">That page.</param>
    /// <param name="log">What is odd.</param>
    /// <exception cref="InvalidDataException">Set-up packets are damaged; the package throws others, too.</exception>
    public static VorbisSource Open(OggPages pages, OggPage first, ProblemLog log) => new(pages, new VorbisPackets(pages, first), log);

    public override int Read(Span<float> interleaved)
    {
        if (silence > 0) return PutSilence(interleaved);
        if (!waiting.IsEmpty) return GiveWaiting(interleaved);
        var count = Decode(interleaved);
        if (packets.TakeGap()) return PassGap(interleaved, count);
        position += count / Channels;
        return count > 0 ? count : End();
    }

    // In small steps, so that it is known to a few milliseconds where a gap lies.
    private int Decode(Span<float> interleaved) => decoder.Read(interleaved, 0, Math.Min(Step, interleaved.Length / Channels) * Channels);

    public override void Dispose()
    {
        decoder.Dispose();
        base.Dispose();
    }

    // After a gap the decoder takes its position from the next page's end: what it moves more than it gives is missing. What it
    // gives until then waits, so that the silence can be put before it.
    private int PassGap(Span<float> interleaved, int count)
    {
        position += count / Channels;
        var after = new List<float>();
        long missing = 0;
        var step = new float[Step * Channels];
        while (missing == 0 && after.Count < LongestPage * Rate * Channels)
        {
            var before = decoder.SamplePosition;
            var read = Decode(step);
            if (read == 0) break;
            after.AddRange(step.AsSpan(0, read));
            missing = decoder.SamplePosition - before - (read / Channels);
        }

        silence = missing > 0 && missing <= LongestGap * Rate ? missing : 0;
        lost.Add(position, silence);
        waiting = after.ToArray();
        return count > 0 ? count : Read(interleaved);
    }

    private int GiveWaiting(Span<float> interleaved)
    {
        var count = Math.Min(waiting.Length, interleaved.Length / Channels * Channels);
        waiting.Span[..count].CopyTo(interleaved);
        waiting = waiting[count..];
        position += count / Channels;
        return count;
    }

    private int PutSilence(Span<float> interleaved)
    {
        var frames = (int)Math.Min(silence, interleaved.Length / Channels);
        interleaved[..(frames * Channels)].Clear();
        silence -= frames;
        position += frames;
        return frames * Channels;
    }

    private int End()
    {
        if (told) return 0;
        told = true;
        lost.Tell(Rate);
        if (!packets.Ended) log.Say($"breaks off at {position / (double)Rate:0.00} s: its last page is missing.", "What is there is used; copy or record it again for the rest.");
        else if (pages.Next() is null && pages.AnotherBegan) OggStreams.TellAnother(log);
        return 0;
    }
}
