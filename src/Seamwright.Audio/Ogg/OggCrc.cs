namespace Seamwright.Audio.Ogg;

/// <summary>The check sum of Ogg pages: polynomial 0x04C11DB7, neither reflected nor inverted (RFC 3533, section 6).</summary>
internal static class OggCrc
{
    private static readonly uint[] Table = [.. Enumerable.Range(0, 256).Select(Entry)];

    /// <summary>Over a whole page, its own four bytes at 22 taken as zero.</summary>
    public static uint Of(ReadOnlySpan<byte> page)
    {
        uint crc = 0;
        for (var i = 0; i < page.Length; i++)
        {
            var b = i is >= 22 and < 26 ? (byte)0 : page[i];
            crc = (crc << 8) ^ Table[(crc >> 24) ^ b];
        }

        return crc;
    }

    private static uint Entry(int index)
    {
        var value = (uint)index << 24;
        for (var bit = 0; bit < 8; bit++) value = (value << 1) ^ ((value & 0x80000000) != 0 ? 0x04C11DB7u : 0);
        return value;
    }
}
