using System.Buffers.Binary;
using System.Text;

namespace Seamwright.Audio;

/// <summary>One chunk of a RIFF file.</summary>
/// <param name="Id">Four characters.</param>
/// <param name="Start">Where its content begins.</param>
/// <param name="Declared">The size its header gives.</param>
/// <param name="Available">The bytes that are really there and belong to it.</param>
internal sealed record RiffChunk(string Id, long Start, long Declared, long Available)
{
    // More chunks than this are not a recording.
    private const int MostChunks = 10_000;

    // 2 GiB less 64 KiB.
    private const long LeastUnknown = 0x7FFF0000;

    /// <summary>Whether the writer did not know the size: pipes and phones leave 0, the largest number, or just under 2 GiB.</summary>
    public bool SizeUnknown => Id == "data" && (Declared == 0 || (Declared >= LeastUnknown && Declared > Available));

    /// <summary>All chunks after the 12 bytes of RIFF … WAVE, in file order, however wrong their sizes.</summary>
    /// <param name="file">Seekable.</param>
    public static List<RiffChunk> Walk(Stream file)
    {
        var found = new List<RiffChunk>();
        long? longSize = null;
        var length = file.Length;
        var header = new byte[8];
        for (var at = 12L; at + 8 <= length && found.Count < MostChunks;)
        {
            ReadAt(file, at, header);
            var id = Encoding.ASCII.GetString(header, 0, 4);
            long declared = BinaryPrimitives.ReadUInt32LittleEndian(header.AsSpan(4));
            if (id == "data" && declared == uint.MaxValue) declared = longSize ?? declared;
            var start = at + 8;
            var rest = length - start;
            var open = id == "data" && IsOpenEnded(file, declared, start);
            var available = open ? rest : Math.Min(declared, rest);
            var chunk = new RiffChunk(id, start, declared, available);
            found.Add(chunk);
            if (id == "ds64") longSize = LongDataSize(chunk.Content(file, 16));
            at = Next(file, start, available);
        }

        return found;
    }

    /// <summary>The first bytes of the content.</summary>
    public byte[] Content(Stream file, int most)
    {
        var bytes = new byte[Math.Min(most, Available)];
        ReadAt(file, Start, bytes);
        return bytes;
    }

    // EBU Tech 3306: ds64 holds RIFF size, data size and sample count as 64-bit numbers.
    private static long? LongDataSize(ReadOnlySpan<byte> ds64)
    {
        if (ds64.Length < 16) return null;
        var size = BinaryPrimitives.ReadInt64LittleEndian(ds64[8..]);
        return size >= 0 ? size : null;
    }

    // A size of 0 before a further chunk is an empty recording.
    private static bool IsOpenEnded(Stream file, long declared, long start) =>
        (declared >= LeastUnknown && declared > file.Length - start) || (declared == 0 && start < file.Length && !LooksLikeChunk(file, start));

    // Chunks begin on even places; some writers forget the byte that fills up.
    private static long Next(Stream file, long start, long available)
    {
        var end = start + available;
        if (available % 2 == 0) return end;
        return !LooksLikeChunk(file, end + 1) && LooksLikeChunk(file, end) ? end : end + 1;
    }

    private static bool LooksLikeChunk(Stream file, long at)
    {
        if (at + 8 > file.Length) return false;
        var header = new byte[8];
        ReadAt(file, at, header);
        foreach (var b in header.AsSpan(0, 4))
        {
            if (b is not (>= (byte)'0' and <= (byte)'9' or >= (byte)'A' and <= (byte)'Z' or >= (byte)'a' and <= (byte)'z' or (byte)' ')) return false;
        }

        return BinaryPrimitives.ReadUInt32LittleEndian(header.AsSpan(4)) <= file.Length - at - 8;
    }

    private static void ReadAt(Stream file, long at, Span<byte> bytes)
    {
        file.Position = at;
        file.ReadExactly(bytes);
    }
}
