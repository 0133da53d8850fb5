using System.Buffers.Binary;
using Concentus;
using Concentus.Enums;
using Seamwright.Audio.Ogg;

namespace Seamwright.Audio.Writing;

/// <summary>Opus in Ogg (RFC 6716, 7845), encoded by Concentus at 48 kHz in packets of 20 ms, a page for each second.</summary>
/// <remarks>Other rates are brought to 48 kHz by the package's resampler. What encoder and resampler put before the sound is told as
/// pre-skip, and the last page's count says where it ends, so a decoder gives the very frames back.</remarks>
internal sealed class OpusSink : SoundSink
{
    private const int Rate = 48000, PacketFrames = 960, PacketsOnPage = 50, LongestPacket = 4000, BestQuality = 10;

    // Any number will do: there is one stream in the file.
    private const uint Serial = 0x5EA3;

    private readonly Stream file;
    private readonly OggPageWriter pages;
    private readonly IOpusEncoder encoder;
    private readonly IResampler? resampler;
    private readonly int channels, rate, skip;
    private readonly float[] packet, resampled;
    private readonly byte[] coded = new byte[LongestPacket];
    private int filled;
    private long taken, packets;

    /// <param name="file">Closed with the sink.</param>
    /// <param name="rate">Of the samples, Hz.</param>
    /// <param name="channels">1 or 2.</param>
    /// <param name="bits">A second, both channels together.</param>
    /// <param name="tags">For the second page.</param>
    public OpusSink(Stream file, int rate, int channels, int bits, SoundTags tags)
    {
        OpusCodecFactory.AttemptToUseNativeLibrary = false;
        (this.file, this.rate, this.channels) = (file, rate, channels);
        encoder = OpusCodecFactory.CreateEncoder(Rate, channels, OpusApplication.OPUS_APPLICATION_AUDIO);
        (encoder.Bitrate, encoder.UseVBR, encoder.Complexity) = (bits, true, 10);
        resampler = rate == Rate ? null : ResamplerFactory.CreateResampler(channels, rate, Rate, BestQuality);
        skip = encoder.Lookahead + (resampler?.OutputLatencySamples ?? 0);
        packet = new float[PacketFrames * channels];
        resampled = new float[PacketFrames * channels];
        pages = new OggPageWriter(file, Serial);
        pages.Add(Head(), 0);
        pages.Close();
        pages.Add(TagTexts.OpusTags(tags), 0);
        pages.Close();
    }

    public override void Write(ReadOnlySpan<float> interleaved)
    {
        taken += interleaved.Length / channels;
        Resample(interleaved);
    }

    public override void Finish()
    {
        var end = skip + (long)Math.Round(taken * (double)Rate / rate);
        var silence = new float[PacketFrames * channels];
        while (packets * PacketFrames < end) Resample(silence);

        // The count must lie within the last page, and nothing may follow it.
        pages.Close(last: true, Math.Min(end, packets * PacketFrames));
        file.Flush();
    }

    public override void Dispose()
    {
        encoder.Dispose();
        resampler?.Dispose();
        file.Dispose();
        base.Dispose();
    }

    private void Resample(ReadOnlySpan<float> interleaved)
    {
        if (resampler is null)
        {
            Collect(interleaved);
            return;
        }

        // It wants to be able to write to what it is given.
        for (var input = interleaved.ToArray().AsSpan(); !input.IsEmpty;)
        {
            int read = input.Length / channels, written = PacketFrames;
            resampler.ProcessInterleaved(input, ref read, resampled, ref written);
            Collect(resampled.AsSpan(0, written * channels));
            if (read == 0 && written == 0) break;
            input = input[(read * channels)..];
        }
    }

    private void Collect(ReadOnlySpan<float> interleaved)
    {
        while (!interleaved.IsEmpty)
        {
            var count = Math.Min(packet.Length - filled, interleaved.Length);
            interleaved[..count].CopyTo(packet.AsSpan(filled));
            interleaved = interleaved[count..];
            filled += count;
            if (filled == packet.Length) Encode();
        }
    }

    private void Encode()
    {
        filled = 0;
        var length = encoder.Encode(packet, PacketFrames, coded, coded.Length);
        if (pages.Waiting == PacketsOnPage) pages.Close();
        pages.Add(coded.AsSpan(0, length), ++packets * PacketFrames);
    }

    private byte[] Head()
    {
        var head = new byte[19];
        "OpusHead"u8.CopyTo(head);
        (head[8], head[9]) = (1, (byte)channels);
        BinaryPrimitives.WriteUInt16LittleEndian(head.AsSpan(10), (ushort)skip);
        BinaryPrimitives.WriteInt32LittleEndian(head.AsSpan(12), rate);
        return head;
    }
}
