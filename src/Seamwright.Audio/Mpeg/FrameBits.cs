using NLayer;

namespace Seamwright.Audio.Mpeg;

/// <summary>One frame as the decoder package wants to read it.</summary>
internal sealed class FrameBits : IMpegFrame
{
    private readonly byte[] bytes = new byte[4096];
    private FrameHeader header;
    private int at;

    public int SampleRate => header.Rate;

    public int SampleRateIndex => header.RateIndex;

    public int FrameLength => header.Length;

    public int BitRate => header.BitRate;

    public int BitRateIndex => header.BitRateIndex;

    public MpegVersion Version => header.Version;

    public MpegLayer Layer => (MpegLayer)header.Layer;

    public MpegChannelMode ChannelMode => (MpegChannelMode)header.ChannelMode;

    public int ChannelModeExtension => header.ModeExtension;

    public int SampleCount => header.Samples;

    public bool IsCopyrighted => false;

    public bool HasCrc => header.HasCrc;

    public bool IsCorrupted => false;

    /// <summary>Takes a whole frame.</summary>
    public void Load(FrameHeader frame, ReadOnlySpan<byte> content)
    {
        header = frame;
        content.CopyTo(bytes);
        bytes.AsSpan(content.Length).Clear();
        Reset();
    }

    public void Reset() => at = 8 * (header.HasCrc ? 6 : 4);

    public int ReadBits(int bitCount)
    {
        var value = 0;
        for (var left = bitCount; left > 0;)
        {
            var inByte = 8 - (at & 7);
            var take = Math.Min(inByte, left);
            var place = at >> 3;

            // A damaged frame may ask for more than there is.
            var b = place < bytes.Length ? bytes[place] : 0;
            value = (value << take) | ((b >> (inByte - take)) & ((1 << take) - 1));
            at += take;
            left -= take;
        }

        return value;
    }
}
