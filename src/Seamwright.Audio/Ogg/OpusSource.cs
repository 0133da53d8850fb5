using Concentus;
using Seamwright.Audio.Decoding;

namespace Seamwright.Audio.Ogg;

/// <summary>Opus in Ogg (RFC 7845), decoded by Concentus at 48 kHz, in the time of the original.</summary>
internal sealed class OpusSource : SampleSource
{
    // More than this is not a gap but a false number.
    private const long LongestGap = 60 * 48000;

    private readonly OggPages pages;
    private readonly OpusHead head;
    private readonly ProblemLog log;
    private readonly LostSound lost;
    private readonly IOpusDecoder decoder;
    private readonly Queue<byte[]> packets = new();
    private readonly float[] decoded;
    private int decodedAt, decodedEnd;

    // In frames of the stream's own count, the pre-skip included.
    private long position, end = long.MaxValue, from;
    private long silence;
    private bool started, finished;

    private OpusSource(OggPages pages, OpusHead head, ProblemLog log)
    {
        (this.pages, this.head, this.log) = (pages, head, log);
        lost = new LostSound(log);
        OpusCodecFactory.AttemptToUseNativeLibrary = false;
        decoder = OpusCodecFactory.CreateDecoder(48000, head.Channels);
        decoded = new float[OpusPacket.Longest * head.Channels];
    }

    public override int Channels => head.Channels;

    public override int Rate => 48000;

    public override IReadOnlyList<LostSpan> Lost => lost.Spans;

    /// <param name="pages">After the first page of the stream.</param>
    /// <param name="head">One or two channels in one stream.</param>
    /// <param name="log">What is odd.</param>
    public static OpusSource Open(OggPages pages, OpusHead head, ProblemLog log) => new(pages, head, log);

    public override int Read(Span<float> interleaved)
    {
        while (decodedAt == decodedEnd)
        {
            if (silence > 0) PutSilence();
            else if (position >= end) return End();
            else if (packets.TryDequeue(out var packet)) Decode(packet);
            else if (!NextPage()) return End();
        }

        var count = Math.Min(interleaved.Length / Channels * Channels, decodedEnd - decodedAt);
        decoded.AsSpan(decodedAt, count).CopyTo(interleaved);
        decodedAt += count;
        return count;
    }

    public override void Dispose()
    {
        decoder.Dispose();
        base.Dispose();
    }

    private bool NextPage()
    {
        if (finished || pages.Next() is not { } page) return false;
        finished = page.Ends;
        var sound = page.Packets.Where(p => !p.AsSpan().StartsWith("OpusTags"u8)).ToList();
        long length = sound.Sum(p => OpusPacket.Frames(p));
        if (sound.Count > 0 && page.Granule >= 0) Place(page, length);
        foreach (var packet in sound) packets.Enqueue(packet);
        return true;
    }

    // The page says where its last packet ends: from that follow start, gaps and end.
    private void Place(OggPage page, long length)
    {
        if (!started)
        {
            // A recording cut out of a longer one begins later than at zero.
            started = true;
            position = Math.Max(0, page.Granule - length);
            from = position + head.PreSkip;
        }
        else if (page.AfterGap)
        {
            var gap = page.Granule - position - length;
            silence = gap is > 0 and <= LongestGap ? gap : 0;
            lost.Add(Math.Max(0, position - from), silence);
        }

        // RFC 7845, section 4.4: what the last page's count leaves out is padding.
        if (page.Ends && page.Granule < position + silence + length) end = Math.Max(page.Granule, position);
    }

    private void Decode(byte[] packet)
    {
        var frames = OpusPacket.Frames(packet);
        var expected = decoded.AsSpan(0, frames * Channels);
        expected.Clear();
        try
        {
            if (frames > 0) decoder.Decode(packet, expected, frames, decode_fec: false);
        }
        catch (Exception e) when (e is OpusException or IndexOutOfRangeException or ArgumentException or InvalidOperationException or NullReferenceException or ArithmeticException)
        {
            expected.Clear();
            lost.Add(Math.Max(0, position - from), frames);
            decoder.ResetState();
        }

        if (head.Gain != 1) Louder(expected);
        Give(frames);
    }

    private void Louder(Span<float> samples)
    {
        foreach (ref var sample in samples) sample *= head.Gain;
    }

    private void PutSilence()
    {
        var frames = (int)Math.Min(silence, OpusPacket.Longest);
        decoded.AsSpan(0, frames * Channels).Clear();
        silence -= frames;
        Give(frames);
    }

    private void Give(int frames)
    {
        var skip = (int)Math.Clamp(from - position, 0, frames);
        var stop = (int)Math.Clamp(end - position, 0, frames);
        position += frames;
        decodedAt = skip * Channels;
        decodedEnd = Math.Max(skip, stop) * Channels;
    }

    private int End()
    {
        lost.Tell(Rate);
        if (!finished) log.Say($"breaks off at {Math.Max(0, position - from) / 48000.0:0.00} s: its last page is missing.", "What is there is used; copy or record it again for the rest.");
        if (finished && pages.Next() is null && pages.AnotherBegan) OggStreams.TellAnother(log);
        finished = true;
        return 0;
    }
}
