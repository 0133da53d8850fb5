namespace Seamwright.Audio.Ogg;

/// <summary>How long a packet sounds, by its first two bytes (RFC 6716, section 3.1).</summary>
internal static class OpusPacket
{
    /// <summary>The longest: 120 ms.</summary>
    public const int Longest = 5760;

    /// <summary>Frames at 48 kHz; 0 where the packet is none.</summary>
    public static int Frames(ReadOnlySpan<byte> packet)
    {
        if (packet.IsEmpty) return 0;
        var count = (packet[0] & 3) switch { 0 => 1, 3 => packet.Length > 1 ? packet[1] & 63 : 0, _ => 2 };
        var length = count * FrameLength(packet[0] >> 3);
        return length <= Longest ? length : 0;
    }

    // SILK 10, 20, 40, 60 ms; hybrid 10, 20 ms; CELT 2.5, 5, 10, 20 ms.
    private static int FrameLength(int configuration) => configuration switch
    {
        < 12 => (configuration & 3) switch { 0 => 480, 1 => 960, 2 => 1920, _ => 2880 },
        < 16 => (configuration & 1) == 0 ? 480 : 960,
        _ => 120 << (configuration & 3),
    };
}
