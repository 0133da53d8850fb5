namespace Seamwright.Audio.Flac;

/// <summary>The header of a FLAC frame whose blocks are all of one length (RFC 9639, 9.1).</summary>
/// <param name="Codes">Block size, rate, channels and bits, as they are coded.</param>
/// <param name="Number">Of the frame, from 0.</param>
/// <param name="Samples">In each channel.</param>
/// <param name="Length">Bytes of the header with its check sum.</param>
internal readonly record struct FlacHeader(ushort Codes, long Number, int Samples, int Length)
{
    // A number takes at most 6 bytes here, a block size and a rate at most 2 each.
    public const int Longest = 16;

    private const byte Sync = 0xFF, FixedBlocks = 0xF8;

    /// <summary>Rate and bits, which never change in a stream.</summary>
    public int Kind => Codes & 0x0F0E;

    public int Channels => (Codes >> 4) & 15;

    /// <summary>Reads a header, or null where these bytes are none.</summary>
    public static FlacHeader? Read(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length < 6 || bytes[0] != Sync || bytes[1] != FixedBlocks || (bytes[3] & 1) != 0) return null;
        var (size, rate) = (bytes[2] >> 4, bytes[2] & 15);
        if (size == 0 || rate == 15 || bytes[3] >> 4 > 10) return null;
        var at = 4;
        if (NumberAt(bytes, ref at) is not { } number) return null;
        var sizeAt = at;
        at += size switch { 6 => 1, 7 => 2, _ => 0 } + rate switch { 12 => 1, 13 or 14 => 2, _ => 0 };
        if (bytes.Length <= at || FlacCrc.OfHeader(bytes[..(at + 1)]) != 0) return null;
        return new((ushort)((bytes[2] << 8) | bytes[3]), number, SamplesOf(size, bytes[sizeAt..]), at + 1);
    }

    /// <summary>A whole frame of silence in place of one of this kind.</summary>
    /// <param name="number">Of the frame.</param>
    /// <param name="own">The bytes of this header.</param>
    /// <param name="stream">Its stream.</param>
    public static byte[] Silence(long number, ReadOnlySpan<byte> own, FlacStream stream)
    {
        var at = 4;
        NumberAt(own, ref at);
        var header = Read(own)!.Value;
        List<byte> frame = [own[0], own[1], own[2], (byte)(((stream.Channels - 1) << 4) | (own[3] & 0x0E)), .. Coded(number), .. own[at..(header.Length - 1)]];
        frame.Add(FlacCrc.OfHeader([.. frame]));

        // Each channel is one constant, 0: a byte that says so and one sample.
        frame.AddRange(new byte[((stream.Channels * (8 + stream.Bits)) + 7) / 8]);
        var crc = frame.Aggregate((ushort)0, FlacCrc.Next);
        return [.. frame, (byte)(crc >> 8), (byte)crc];
    }

    private static int SamplesOf(int size, ReadOnlySpan<byte> coded) => size switch
    {
        1 => 192,
        < 6 => 576 << (size - 2),
        6 => coded[0] + 1,
        7 => ((coded[0] << 8) | coded[1]) + 1,
        _ => 256 << (size - 8),
    };

    // As UTF-8 codes characters, up to 31 bits.
    private static long? NumberAt(ReadOnlySpan<byte> bytes, ref int at)
    {
        int first = bytes[at++];
        if (first < 0x80) return first;
        var more = first switch { < 0xC0 => 0, < 0xE0 => 1, < 0xF0 => 2, < 0xF8 => 3, < 0xFC => 4, < 0xFE => 5, _ => 0 };
        if (more == 0 || bytes.Length < at + more) return null;
        long number = first & (0x3F >> more);
        for (; more > 0; more--, at++)
        {
            if ((bytes[at] & 0xC0) != 0x80) return null;
            number = (number << 6) | (uint)(bytes[at] & 0x3F);
        }

        return number;
    }

    private static byte[] Coded(long number)
    {
        if (number < 0x80) return [(byte)number];
        var more = 1;
        while (number >> ((5 * more) + 6) > 0) more++;
        var bytes = new byte[more + 1];
        for (var i = more; i > 0; i--, number >>= 6) bytes[i] = (byte)(0x80 | (number & 0x3F));
        bytes[0] = (byte)((0xFF << (7 - more)) | (int)number);
        return bytes;
    }
}
