using NVorbis;
using NVorbis.Contracts;

namespace Seamwright.Audio.Ogg;

/// <summary>Hands the packets of one Vorbis stream to the decoder, and keeps count of what is missing.</summary>
internal sealed class VorbisPackets(OggPages pages, OggPage first) : NVorbis.Contracts.IPacketProvider
{
    // An empty comment: vendor and list of length 0, framing bit. What real files say there is of no use here.
    private static readonly byte[] NoComment = [3, .. "vorbis"u8, 0, 0, 0, 0, 0, 0, 0, 0, 1];

    private readonly Queue<Packet> queue = new();
    private int headers;

    public bool CanSeek => false;

    public int StreamSerial => (int)first.Serial;

    /// <summary>Whether the last page was met.</summary>
    public bool Ended { get; private set; }

    /// <summary>Whether pages were missing since this was last asked.</summary>
    public bool TakeGap()
    {
        var was = Gap;
        Gap = false;
        return was;
    }

    private bool Gap { get; set; }

    public IPacket? GetNextPacket() => Fill() ? queue.Dequeue() : null;

    public IPacket? PeekNextPacket() => Fill() ? queue.Peek() : null;

    public long GetGranuleCount() => throw new NotSupportedException();

    public long SeekTo(long granulePos, int preRoll, GetPacketGranuleCount getPacketGranuleCount) => throw new NotSupportedException();

    private bool Fill()
    {
        if (headers == 0) Add(first);
        while (queue.Count == 0)
        {
            if (Ended || pages.Next() is not { } page) return false;
            Add(page);
        }

        return true;
    }

    private void Add(OggPage page)
    {
        Ended |= page.Ends;
        Gap |= page.AfterGap && headers >= 3;
        for (var i = 0; i < page.Packets.Count; i++)
        {
            var isLast = i == page.Packets.Count - 1;
            var isHeader = headers < 3;
            var content = headers == 1 ? NoComment : page.Packets[i];
            if (headers == 2 && !VorbisBooks.AreSound(content)) throw new InvalidDataException("The set-up packet is damaged.");
            if (isHeader) headers++;
            queue.Enqueue(new Packet(content, isHeader)
            {
                GranulePosition = isLast && !isHeader ? page.Granule : null,
                IsEndOfStream = isLast && page.Ends,
                IsResync = i == 0 && page.AfterGap && !isHeader,
            });
        }
    }

    private sealed class Packet(byte[] bytes, bool isHeader) : DataPacket
    {
        private int at;

        protected override int TotalBits => 8 * bytes.Length;

        public override void Reset()
        {
            at = 0;
            base.Reset();
        }

        // A header that ends too early would keep the decoder asking for ever.
        protected override int ReadNextByte()
        {
            if (at < bytes.Length) return bytes[at++];
            return isHeader ? throw new InvalidDataException("A header packet ends too early.") : -1;
        }
    }
}
