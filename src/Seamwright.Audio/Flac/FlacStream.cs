using System.Buffers.Binary;

namespace Seamwright.Audio.Flac;

/// <summary>What a FLAC file says of itself in its first block (RFC 9639, 8.2).</summary>
/// <param name="BlockSize">Samples in each frame but the last.</param>
/// <param name="Rate">Hz.</param>
/// <param name="Channels">1 to 8.</param>
/// <param name="Bits">Of a sample.</param>
internal sealed record FlacStream(int BlockSize, int Rate, int Channels, int Bits)
{
    /// <summary>Bytes of the mark, the block's header and the block.</summary>
    public const int Length = 42;

    /// <summary>Reads it, or null where it is damaged or its frames may differ in length.</summary>
    /// <param name="head">The file's first bytes.</param>
    public static FlacStream? Read(ReadOnlySpan<byte> head)
    {
        if (head.Length < Length || !head.StartsWith("fLaC"u8) || (head[4] & 0x7F) != 0) return null;
        var (least, most) = (BinaryPrimitives.ReadUInt16BigEndian(head[8..]), BinaryPrimitives.ReadUInt16BigEndian(head[10..]));
        var rate = (int)(BinaryPrimitives.ReadUInt32BigEndian(head[18..]) >> 12);
        var (channels, bits) = (((head[20] >> 1) & 7) + 1, (((head[20] & 1) << 4) | (head[21] >> 4)) + 1);
        return least == most && least >= 16 && rate > 0 ? new(least, rate, channels, bits) : null;
    }

    /// <summary>The same block as the only one, without what it says of the frames' bytes.</summary>
    public static byte[] Alone(ReadOnlySpan<byte> head)
    {
        var block = head[..Length].ToArray();
        block[4] = 0x80;
        block.AsSpan(12, 6).Clear();
        return block;
    }
}
