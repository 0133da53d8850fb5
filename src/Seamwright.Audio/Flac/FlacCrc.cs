namespace Seamwright.Audio.Flac;

/// <summary>The two check sums of a FLAC frame (RFC 9639, 9.1.8 and 9.3).</summary>
internal static class FlacCrc
{
    private static readonly byte[] Eight = Table8();
    private static readonly ushort[] Sixteen = Table16();

    /// <summary>Of a header: 0 over a whole one with its own sum.</summary>
    public static byte OfHeader(ReadOnlySpan<byte> bytes)
    {
        byte crc = 0;
        foreach (var b in bytes) crc = Eight[crc ^ b];
        return crc;
    }

    /// <summary>Of a frame, carried on byte by byte from 0: 0 over a whole one with its own sum.</summary>
    public static ushort Next(ushort crc, byte next) => (ushort)((crc << 8) ^ Sixteen[(crc >> 8) ^ next]);

    private static byte[] Table8()
    {
        var table = new byte[256];
        for (var i = 0; i < 256; i++)
        {
            var crc = i;
            for (var bit = 0; bit < 8; bit++) crc = (crc << 1) ^ ((crc & 0x80) != 0 ? 0x107 : 0);
            table[i] = (byte)crc;
        }

        return table;
    }

    private static ushort[] Table16()
    {
        var table = new ushort[256];
        for (var i = 0; i < 256; i++)
        {
            var crc = i << 8;
            for (var bit = 0; bit < 8; bit++) crc = (crc << 1) ^ ((crc & 0x8000) != 0 ? 0x18005 : 0);
            table[i] = (ushort)crc;
        }

        return table;
    }
}
