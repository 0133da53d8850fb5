using System.Buffers.Binary;
using NLayer;

namespace Seamwright.Audio.Mpeg;

/// <summary>The four bytes before every frame of MPEG audio (ISO/IEC 11172-3, 2.4.1.3, and 13818-3).</summary>
internal readonly record struct FrameHeader(uint Bits)
{
    // kbit/s: MPEG-1 layers I, II, III; MPEG-2 layer I; MPEG-2 layers II and III.
    private static readonly short[][] Kilobits =
    [
        [0, 32, 64, 96, 128, 160, 192, 224, 256, 288, 320, 352, 384, 416, 448],
        [0, 32, 48, 56, 64, 80, 96, 112, 128, 160, 192, 224, 256, 320, 384],
        [0, 32, 40, 48, 56, 64, 80, 96, 112, 128, 160, 192, 224, 256, 320],
        [0, 32, 48, 56, 64, 80, 96, 112, 128, 144, 160, 176, 192, 224, 256],
        [0, 8, 16, 24, 32, 40, 48, 56, 64, 80, 96, 112, 128, 144, 160],
    ];

    // 3 for MPEG-1, 2 for MPEG-2, 0 for the extension to lower rates that is called 2.5.
    private int VersionBits => (int)(Bits >> 19) & 3;

    public bool IsFirstVersion => VersionBits == 3;

    public MpegVersion Version => VersionBits switch { 3 => MpegVersion.Version1, 2 => MpegVersion.Version2, _ => MpegVersion.Version25 };

    public int Layer => 4 - ((int)(Bits >> 17) & 3);

    public bool HasCrc => (Bits & 0x10000) == 0;

    public int BitRateIndex => (int)(Bits >> 12) & 15;

    public int RateIndex => (int)(Bits >> 10) & 3;

    public int ChannelMode => (int)(Bits >> 6) & 3;

    public int ModeExtension => (int)(Bits >> 4) & 3;

    public int Channels => ChannelMode == 3 ? 1 : 2;

    public int BitRate => 1000 * Kilobits[IsFirstVersion ? Layer - 1 : Layer == 1 ? 3 : 4][BitRateIndex];

    public int Rate => (RateIndex switch { 0 => 44100, 1 => 48000, _ => 32000 }) / (VersionBits switch { 3 => 1, 2 => 2, _ => 4 });

    /// <summary>Frames of sound in it.</summary>
    public int Samples => Layer switch { 1 => 384, 2 => 1152, _ => IsFirstVersion ? 1152 : 576 };

    /// <summary>Bytes, the header included.</summary>
    public int Length
    {
        get
        {
            var padding = (int)(Bits >> 9) & 1;
            return Layer == 1 ? ((12 * BitRate / Rate) + padding) * 4 : (Samples / 8 * BitRate / Rate) + padding;
        }
    }

    /// <summary>Bytes of layer III's side information.</summary>
    public int SideLength => IsFirstVersion ? (Channels == 1 ? 17 : 32) : (Channels == 1 ? 9 : 17);

    /// <summary>Reads a header, or null where these bytes are none. Frames of free bit rate are not known here.</summary>
    public static FrameHeader? Read(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length < 4) return null;
        var header = new FrameHeader(BinaryPrimitives.ReadUInt32BigEndian(bytes));
        var sound = (header.Bits & 0xFFE00000) == 0xFFE00000 && header.VersionBits != 1 && header.Layer < 4
            && header.BitRateIndex is > 0 and < 15 && header.RateIndex < 3;
        return sound ? header : null;
    }

    /// <summary>Whether both can stand in one stream: version, layer and rate never change.</summary>
    public bool Fits(FrameHeader other) => (Bits & 0xFFFE0C00) == (other.Bits & 0xFFFE0C00);
}
