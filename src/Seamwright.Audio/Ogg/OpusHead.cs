using System.Buffers.Binary;

namespace Seamwright.Audio.Ogg;

/// <summary>The first packet of an Opus stream (RFC 7845, section 5.1).</summary>
/// <param name="Channels">Of the output.</param>
/// <param name="PreSkip">Frames at 48 kHz to be left out at the start.</param>
/// <param name="Gain">To be multiplied.</param>
/// <param name="Family">0 and, with at most two channels, 1 mean one stream.</param>
internal sealed record OpusHead(int Channels, int PreSkip, float Gain, int Family)
{
    /// <summary>Reads it, or null where it is none.</summary>
    public static OpusHead? Read(ReadOnlySpan<byte> packet)
    {
        if (packet.Length < 19 || !packet.StartsWith("OpusHead"u8) || packet[8] > 15) return null;
        var gain = BinaryPrimitives.ReadInt16LittleEndian(packet[16..]) / 256.0;
        return new OpusHead(packet[9], BinaryPrimitives.ReadUInt16LittleEndian(packet[10..]), (float)Math.Pow(10, gain / 20), packet[18]);
    }
}
