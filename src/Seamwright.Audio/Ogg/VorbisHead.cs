using System.Buffers.Binary;

namespace Seamwright.Audio.Ogg;

/// <summary>The first packet of a Vorbis stream (Vorbis I specification, 4.2.2).</summary>
internal sealed record VorbisHead(int Channels, long Rate)
{
    /// <summary>Reads it, or null where it breaks the specification.</summary>
    public static VorbisHead? Read(ReadOnlySpan<byte> packet)
    {
        if (packet.Length < 30 || !packet.StartsWith("\u0001vorbis"u8) || BinaryPrimitives.ReadUInt32LittleEndian(packet[7..]) != 0) return null;
        int small = packet[28] & 15, large = packet[28] >> 4;
        var sound = packet[11] > 0 && small is >= 6 and <= 13 && large >= small && large <= 13 && (packet[29] & 1) == 1;
        return sound ? new VorbisHead(packet[11], BinaryPrimitives.ReadUInt32LittleEndian(packet[12..])) : null;
    }
}
