using System.Buffers.Binary;
using System.Text;

namespace Seamwright.Audio.External;

/// <summary>How long a file says it is, for the formats that ffmpeg decodes.</summary>
internal static class PromisedLength
{
    // A table of contents beyond this belongs to no recording of a day.
    private const long LongestTable = 64L << 20;

    private const int MostBoxes = 10_000;

    /// <summary>Seconds in a FLAC file's first block (RFC 9639, 8.2), or null.</summary>
    public static double? OfFlac(ReadOnlySpan<byte> head)
    {
        if (head.Length < 26 || (head[4] & 0x7F) != 0) return null;
        var rate = BinaryPrimitives.ReadUInt32BigEndian(head[18..]) >> 12;
        var frames = BinaryPrimitives.ReadUInt64BigEndian(head[18..]) & 0xFFFFFFFFF;
        return rate == 0 || frames == 0 ? null : frames / (double)rate;
    }

    /// <summary>Seconds of the first sound track of an MP4 or QuickTime file (ISO/IEC 14496-12, 8.3.2), or null.</summary>
    public static double? OfMovie(Stream file)
    {
        long at = 0;
        var header = new byte[16];
        for (var i = 0; i < MostBoxes && at + 8 <= file.Length; i++)
        {
            file.Position = at;
            var got = file.ReadAtLeast(header, 16, throwOnEndOfStream: false);
            if (got < 8) return null;
            long size = BinaryPrimitives.ReadUInt32BigEndian(header);
            var head = 8;
            if (size == 1) (size, head) = (BinaryPrimitives.ReadInt64BigEndian(header.AsSpan(8)), 16);
            if (size < head || size > file.Length - at) return null;
            if (header.AsSpan(4, 4).SequenceEqual("moov"u8)) return size > LongestTable ? null : InTable(Content(file, at + head, (int)(size - head)));
            at += size;
        }

        return null;
    }

    private static byte[] Content(Stream file, long at, int length)
    {
        var bytes = new byte[length];
        file.Position = at;
        file.ReadExactly(bytes);
        return bytes;
    }

    private static double? InTable(byte[] table)
    {
        double scale = 0;
        foreach (var (type, box) in Boxes(table))
        {
            if (type == "mvhd") scale = Number(box, 12, 20, isLong: false);
            else if (type == "trak" && scale > 0 && IsSound(box))
                return Boxes(box).Where(b => b.Type == "tkhd").Select(b => (double?)(Number(b.Content, 20, 28, isLong: true) / scale)).FirstOrDefault(s => s > 0);
        }

        return null;
    }

    private static bool IsSound(Memory<byte> track) => Boxes(track).Where(b => b.Type == "mdia").SelectMany(b => Boxes(b.Content))
        .Any(b => b.Type == "hdlr" && b.Content.Length >= 12 && b.Content.Span.Slice(8, 4).SequenceEqual("soun"u8));

    // Boxes of version 1 have longer times before the number, and perhaps a longer number.
    private static double Number(Memory<byte> box, int place, int placeInLong, bool isLong)
    {
        if (box.Length < placeInLong + 8) return 0;
        var isVersion1 = box.Span[0] == 1;
        var at = box.Span[(isVersion1 ? placeInLong : place)..];
        if (isVersion1 && isLong) return BinaryPrimitives.ReadInt64BigEndian(at) is var whole && whole > 0 ? whole : 0;
        var number = BinaryPrimitives.ReadUInt32BigEndian(at);
        return number == uint.MaxValue ? 0 : number;
    }

    private static IEnumerable<(string Type, Memory<byte> Content)> Boxes(Memory<byte> bytes)
    {
        for (var i = 0; i < MostBoxes && bytes.Length >= 8; i++)
        {
            long size = BinaryPrimitives.ReadUInt32BigEndian(bytes.Span);
            if (size < 8 || size > bytes.Length) yield break;
            yield return (Encoding.Latin1.GetString(bytes.Span.Slice(4, 4)), bytes[8..(int)size]);
            bytes = bytes[(int)size..];
        }
    }
}
