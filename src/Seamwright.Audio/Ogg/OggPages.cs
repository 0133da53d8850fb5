using System.Buffers.Binary;
using Seamwright.Audio.Decoding;

namespace Seamwright.Audio.Ogg;

/// <summary>Walks the pages of an Ogg file (RFC 3533) and joins the packets of one logical stream. Pages whose check sum is wrong
/// are passed over.</summary>
internal sealed class OggPages(Stream file)
{
    // 27 bytes, 255 lengths, 255 segments of 255 bytes.
    private const int LongestPage = 27 + 255 + (255 * 255);

    // No packet of sound or set-up comes near it; pictures in the comments do, and nobody looks at those.
    private const int LongestPacket = 1 << 18;

    private readonly ByteWindow bytes = new(file, 1 << 17);
    private readonly List<byte> part = [];
    private bool partIsOpen;
    private uint? serial;
    private uint expected;

    /// <summary>Only pages of this stream are given from now on.</summary>
    public void Follow(OggPage first)
    {
        serial = first.Serial;
        partIsOpen = false;
    }

    /// <summary>Whether a further stream began after ours had ended.</summary>
    public bool AnotherBegan { get; private set; }

    /// <summary>The next sound page, or null at the end of the file.</summary>
    public OggPage? Next()
    {
        while (true)
        {
            var here = bytes.Peek(LongestPage);
            if (here.Length < 27) return null;
            var length = WholeLength(here);
            if (length == 0)
            {
                var to = here[1..].IndexOf("OggS"u8);
                bytes.Skip(to >= 0 ? to + 1 : Math.Max(1, here.Length - 3));
                continue;
            }

            var page = here[..length].ToArray();
            bytes.Skip(length);
            var of = BinaryPrimitives.ReadUInt32LittleEndian(page.AsSpan(14));
            if (serial is { } ours && of != ours) AnotherBegan |= (page[5] & 2) != 0;
            else return Opened(page, of);
        }
    }

    // 0 where no sound page begins.
    private static int WholeLength(ReadOnlySpan<byte> here)
    {
        if (!here.StartsWith("OggS"u8) || here[4] != 0) return 0;
        var header = 27 + here[26];
        if (here.Length < header) return 0;
        var length = header;
        foreach (var segment in here[27..header]) length += segment;
        if (here.Length < length) return 0;
        return OggCrc.Of(here[..length]) == BinaryPrimitives.ReadUInt32LittleEndian(here[22..]) ? length : 0;
    }

    private OggPage Opened(byte[] page, uint of)
    {
        var sequence = BinaryPrimitives.ReadUInt32LittleEndian(page.AsSpan(18));
        var begins = (page[5] & 2) != 0;
        var gap = !begins && sequence != expected;
        expected = sequence + 1;
        var continues = (page[5] & 1) != 0;
        if (!continues || gap) partIsOpen = false;
        var packets = Packets(page, continues && !partIsOpen);
        return new OggPage(of, begins, (page[5] & 4) != 0, gap, BinaryPrimitives.ReadInt64LittleEndian(page.AsSpan(6)), packets);
    }

    private List<byte[]> Packets(byte[] page, bool headIsMissing)
    {
        var packets = new List<byte[]>();
        var at = 27 + page[26];
        if (!partIsOpen) part.Clear();
        for (var s = 0; s < page[26]; s++)
        {
            int length = page[27 + s];
            if (part.Count < LongestPacket) part.AddRange(page.AsSpan(at, length));
            at += length;
            partIsOpen = length == 255;
            if (partIsOpen) continue;
            if (!headIsMissing) packets.Add(part.ToArray());
            headIsMissing = false;
            part.Clear();
        }

        // Its head went with a page that is missing.
        if (headIsMissing) partIsOpen = false;
        return packets;
    }
}
