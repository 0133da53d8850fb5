using System.Buffers.Binary;
using System.Text;

namespace Seamwright.Audio;

/// <summary>One chunk of a RIFF file.</summary>
/// <param name="Id">Four characters.</param>
/// <param name="Start">Where its content begins.</param>
/// <param name="Declared">The size its header gives.</param>
/// <param name="Available">The bytes that are really there and belong to it.</param>
internal sealed record RiffChunk(string Id, int Start, long Declared, int Available)
{
    // More chunks than this are not a recording.
    private const int MostChunks = 10_000;

    // 2 GiB less 64 KiB.
    private const long LeastUnknown = 0x7FFF0000;

    /// <summary>Whether the writer did not know the size: pipes and phones leave 0, the largest number, or just under 2 GiB.</summary>
    public bool SizeUnknown => Id == "data" && (Declared == 0 || (Declared >= LeastUnknown && Declared > Available));

    /// <summary>All chunks after the 12 bytes of RIFF … WAVE, in file order, however wrong their sizes.</summary>
    public static List<RiffChunk> Walk(ReadOnlySpan<byte> bytes)
    {
        var found = new List<RiffChunk>();
        long? longSize = null;
        var at = 12;
        while (at + 8 <= bytes.Length && found.Count < MostChunks)
        {
            var id = Encoding.ASCII.GetString(bytes.Slice(at, 4));
            long declared = BinaryPrimitives.ReadUInt32LittleEndian(bytes.Slice(at + 4, 4));
            if (id == "data" && declared == uint.MaxValue) declared = longSize ?? declared;
            var start = at + 8;
            var rest = bytes.Length - start;
            var open = id == "data" && IsOpenEnded(bytes, declared, start);
            var available = open ? rest : (int)Math.Min(declared, rest);
            found.Add(new RiffChunk(id, start, declared, available));
            if (id == "ds64") longSize = LongDataSize(bytes.Slice(start, available));
            at = Next(bytes, start, available);
        }

        return found;
    }

    // EBU Tech 3306: ds64 holds RIFF size, data size and sample count as 64-bit numbers.
    private static long? LongDataSize(ReadOnlySpan<byte> ds64)
    {
        if (ds64.Length < 16) return null;
        var size = BinaryPrimitives.ReadInt64LittleEndian(ds64[8..]);
        return size >= 0 ? size : null;
    }

    // A size of 0 before a further chunk is an empty recording.
    private static bool IsOpenEnded(ReadOnlySpan<byte> bytes, long declared, int start) =>
        (declared >= LeastUnknown && declared > bytes.Length - start) || (declared == 0 && start < bytes.Length && !LooksLikeChunk(bytes, start));

    // Chunks begin on even places; some writers forget the byte that fills up.
    private static int Next(ReadOnlySpan<byte> bytes, int start, int available)
    {
        var end = start + available;
        if (available % 2 == 0) return end;
        return !LooksLikeChunk(bytes, end + 1) && LooksLikeChunk(bytes, end) ? end : end + 1;
    }

    private static bool LooksLikeChunk(ReadOnlySpan<byte> bytes, int at)
    {
        if (at + 8 > bytes.Length) return false;
        foreach (var b in bytes.Slice(at, 4))
        {
            if (b is not (>= (byte)'0' and <= (byte)'9' or >= (byte)'A' and <= (byte)'Z' or >= (byte)'a' and <= (byte)'z' or (byte)' ')) return false;
        }

        return BinaryPrimitives.ReadUInt32LittleEndian(bytes.Slice(at + 4, 4)) <= bytes.Length - at - 8;
    }
}
