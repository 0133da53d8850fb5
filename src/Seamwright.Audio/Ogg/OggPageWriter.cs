using System.Buffers.Binary;

namespace Seamwright.Audio.Ogg;

/// <summary>Puts packets on the pages of one logical stream (RFC 3533).</summary>
/// <param name="file">Written forward only.</param>
/// <param name="serial">Of the stream.</param>
internal sealed class OggPageWriter(Stream file, uint serial)
{
    private const int MostSegments = 255;

    private readonly List<byte> segments = [], content = [];
    private uint sequence;
    private long granule;

    /// <summary>How many packets wait on the open page.</summary>
    public int Waiting { get; private set; }

    /// <summary>Puts a packet on the open page; a page that it does not fit on is closed before.</summary>
    /// <param name="packet">Shorter than 65,025 bytes.</param>
    /// <param name="frames">The count up to its end.</param>
    /// <exception cref="ArgumentException">The packet is longer than a page.</exception>
    public void Add(ReadOnlySpan<byte> packet, long frames)
    {
        var needed = (packet.Length / 255) + 1;
        if (needed > MostSegments) throw new ArgumentException($"A packet of {packet.Length} bytes is longer than a page.", nameof(packet));
        if (segments.Count + needed > MostSegments) Close();
        for (var left = packet.Length; left >= 0; left -= 255) segments.Add((byte)Math.Min(left, 255));
        content.AddRange(packet);
        granule = frames;
        Waiting++;
    }

    /// <summary>Writes the open page.</summary>
    /// <param name="last">Whether the stream ends with it.</param>
    /// <param name="frames">The count it shall give in place of its last packet's.</param>
    public void Close(bool last = false, long? frames = null)
    {
        var page = new byte[27 + segments.Count + content.Count];
        "OggS"u8.CopyTo(page);
        page[5] = (byte)((sequence == 0 ? 2 : 0) | (last ? 4 : 0));
        BinaryPrimitives.WriteInt64LittleEndian(page.AsSpan(6), frames ?? granule);
        BinaryPrimitives.WriteUInt32LittleEndian(page.AsSpan(14), serial);
        BinaryPrimitives.WriteUInt32LittleEndian(page.AsSpan(18), sequence++);
        page[26] = (byte)segments.Count;
        segments.CopyTo(page, 27);
        content.CopyTo(page, 27 + segments.Count);
        BinaryPrimitives.WriteUInt32LittleEndian(page.AsSpan(22), OggCrc.Of(page));
        file.Write(page);
        segments.Clear();
        content.Clear();
        Waiting = 0;
    }
}
