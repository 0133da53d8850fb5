namespace Seamwright.Audio.Ogg;

/// <summary>Looks through the code books of a Vorbis set-up packet, so that a false one cannot ask the decoder for all memory
/// (Vorbis I specification, 3.2.1 and 4.2.4).</summary>
internal ref struct VorbisBooks
{
    // The reference encoder's largest book has 6,561 entries.
    private const long MostEntries = 1 << 17, MostValues = 1 << 21;

    private readonly ReadOnlySpan<byte> packet;
    private long at;

    private VorbisBooks(ReadOnlySpan<byte> packet)
    {
        this.packet = packet;
        at = 7 * 8;
    }

    private readonly bool IsBeyond => at > 8L * packet.Length;

    /// <summary>Whether all books are of sensible size and end within the packet.</summary>
    public static bool AreSound(ReadOnlySpan<byte> packet)
    {
        if (!packet.StartsWith("\u0005vorbis"u8)) return false;
        var books = new VorbisBooks(packet);
        var count = books.Take(8) + 1;
        for (var i = 0; i < count; i++)
        {
            if (!books.NextIsSound()) return false;
        }

        return true;
    }

    private bool NextIsSound()
    {
        if (Take(24) != 0x564342) return false;
        long dimensions = Take(16), entries = Take(24);
        if (dimensions == 0 || entries == 0 || entries > MostEntries || entries * dimensions > MostValues) return false;
        if (!(Take(1) == 1 ? PassOrdered(entries) : PassLengths(entries))) return false;
        var lookup = Take(4);
        if (lookup is 1 or 2)
        {
            at += 64;
            var bits = Take(4) + 1;
            at += 1 + (bits * (lookup == 1 ? Root(entries, dimensions) : entries * dimensions));
        }

        return lookup <= 2 && !IsBeyond;
    }

    private bool PassOrdered(long entries)
    {
        var length = Take(5) + 1;
        for (long done = 0; done < entries; length++)
        {
            done += Take(64 - System.Numerics.BitOperations.LeadingZeroCount((ulong)(entries - done)));
            if (done > entries || length > 32 || IsBeyond) return false;
        }

        return true;
    }

    private bool PassLengths(long entries)
    {
        var sparse = Take(1) == 1;
        for (long i = 0; i < entries && !IsBeyond; i++)
        {
            if (!sparse || Take(1) == 1) at += 5;
        }

        return !IsBeyond;
    }

    // The largest whole number whose power is not above the number of entries.
    private static long Root(long entries, long dimensions)
    {
        long root = 1;
        while (Math.Pow(root + 1, dimensions) <= entries) root++;
        return root;
    }

    private long Take(int bits)
    {
        long value = 0;
        for (var i = 0; i < bits; i++, at++)
        {
            var place = at >> 3;
            if (place < packet.Length && ((packet[(int)place] >> (int)(at & 7)) & 1) != 0) value |= 1L << i;
        }

        return value;
    }
}
