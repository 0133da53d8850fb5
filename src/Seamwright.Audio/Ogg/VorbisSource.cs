using NVorbis;
using Seamwright.Audio.Decoding;

namespace Seamwright.Audio.Ogg;

/// <summary>Vorbis in Ogg, decoded by NVorbis, in the time of the original.</summary>
internal sealed class VorbisSource : SampleSource
{
    private readonly OggPages pages;
    private readonly VorbisPackets packets;
    private readonly StreamDecoder decoder;
    private readonly ProblemLog log;
    private readonly LostSound lost;
    private long position, silence;
    private bool told;

    private VorbisSource(OggPages pages, VorbisPackets packets, ProblemLog log)
    {
        (this.pages, this.packets, this.log) = (pages, packets, log);
        lost = new LostSound(log);
        decoder = new StreamDecoder(packets) { ClipSamples = false };
    }

    public override int Channels => decoder.Channels;

    public override int Rate => decoder.SampleRate;

    /// <param name="pages">After the first page of the stream.</param>
    /// <param name="first">That page.</param>
    /// <param name="log">What is odd.</param>
    /// <exception cref="InvalidDataException">Set-up packets are damaged; the package throws others, too.</exception>
    public static VorbisSource Open(OggPages pages, OggPage first, ProblemLog log) => new(pages, new VorbisPackets(pages, first), log);

    public override int Read(Span<float> interleaved)
    {
        if (silence > 0) return PutSilence(interleaved);
        var before = decoder.SamplePosition;
        var count = decoder.Read(interleaved, 0, interleaved.Length / Channels * Channels);
        if (packets.TakeGap()) MeasureGap(before, count / Channels);
        position += count / Channels;
        return count > 0 ? count : End();
    }

    public override void Dispose()
    {
        decoder.Dispose();
        base.Dispose();
    }

    // After a gap the decoder takes its position from the next page: what it moved more than it gave is missing.
    private void MeasureGap(long before, long given)
    {
        var missing = decoder.SamplePosition - before - given;
        silence = missing > 0 && missing <= 60L * Rate ? missing : 0;
        lost.Add(position + given, silence);
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
