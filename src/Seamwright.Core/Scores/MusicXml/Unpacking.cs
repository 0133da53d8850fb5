using System.IO.Compression;
using Seamwright.Core.Scores.Assembling;

namespace Seamwright.Core.Scores.MusicXml;

/// <summary>From a file's bytes to its MusicXML document: told apart by content, compressed files unpacked within limits.</summary>
internal static class Unpacking
{
    private const string ContainerPath = "META-INF/container.xml";

    /// <summary>Whether the bytes begin like a ZIP archive ("PK").</summary>
    public static bool IsArchive(ReadOnlySpan<byte> bytes) => bytes.StartsWith("PK"u8);

    /// <summary>Whether the bytes begin like XML in UTF-8 or UTF-16, perhaps after a byte order mark or blanks.</summary>
    public static bool LooksLikeXml(ReadOnlySpan<byte> bytes)
    {
        foreach (var b in bytes[..Math.Min(bytes.Length, 256)])
        {
            if (b == '<') return true;
            if (b is not (0 or 0xEF or 0xBB or 0xBF or 0xFE or 0xFF or (byte)' ' or (byte)'\t' or (byte)'\r' or (byte)'\n')) return false;
        }

        return false;
    }

    /// <summary>The score document inside a compressed file.</summary>
    /// <exception cref="InvalidDataException">Damaged, or no score inside.</exception>
    /// <exception cref="LimitException">Beyond the limits.</exception>
    public static byte[] Score(byte[] archive, ReadLimits limits)
    {
        using var zip = new ZipArchive(new MemoryStream(archive, writable: false), ZipArchiveMode.Read);
        if (zip.Entries.Count > limits.MostEntries)
            throw new LimitException($"holds {zip.Entries.Count} entries, more than {limits.MostEntries}.");
        var path = RootFile(zip, limits);
        var entry = (path is null ? null : zip.GetEntry(path)) ?? FirstScore(zip)
            ?? throw new InvalidDataException(path is null
                ? "The compressed file holds no MusicXML document."
                : $"The compressed file names '{path}' as its score but does not hold it.");
        return Bytes(entry, limits);
    }

    private static string? RootFile(ZipArchive zip, ReadLimits limits)
    {
        if (zip.GetEntry(ContainerPath) is not { } container) return null;
        var root = Element.Read(Bytes(container, limits), limits);
        var files = root.Child("rootfiles")?.All("rootfile").ToList() ?? [];
        var score = files.FirstOrDefault(f => f.Attribute("media-type") is null or "" or "application/vnd.recordare.musicxml+xml");
        return (score ?? files.FirstOrDefault())?.Attribute("full-path");
    }

    private static ZipArchiveEntry? FirstScore(ZipArchive zip) => zip.Entries.FirstOrDefault(e =>
        !e.FullName.StartsWith("META-INF", StringComparison.Ordinal)
        && (e.FullName.EndsWith(".musicxml", StringComparison.OrdinalIgnoreCase) || e.FullName.EndsWith(".xml", StringComparison.OrdinalIgnoreCase)));

    private static byte[] Bytes(ZipArchiveEntry entry, ReadLimits limits)
    {
        using var content = entry.Open();
        return WholeFile.Read(content, limits.MostBytes, unpacked =>
            unpacked > 1 << 20 && unpacked / Math.Max(1, entry.CompressedLength) > limits.MostRatio
                ? $"unpacks to more than {limits.MostRatio} times its size."
                : null);
    }
}
