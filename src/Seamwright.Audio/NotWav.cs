using Seamwright.Core;

namespace Seamwright.Audio;

/// <summary>Says what a file is that is not a WAV file.</summary>
internal static class NotWav
{
    private const string Convert = "Save or convert it as WAV (PCM, 16 or 24 bits) and give that.";

    /// <summary>Null where the file begins as a WAV file does.</summary>
    public static Problem? Explain(ReadOnlySpan<byte> bytes, string name)
    {
        if (bytes.IsEmpty) return new Problem(name, "is empty.", "Record it again, or check that the copy was completed.", Severity.Error);
        if (bytes.Length >= 12 && IsRiff(bytes) && bytes[8..12].SequenceEqual("WAVE"u8)) return null;
        var what = Known(bytes);
        return what is null
            ? new Problem(name, "is not a WAV file (it does not begin with RIFF … WAVE).", Convert, Severity.Error)
            : new Problem(name, $"is {what}, not a WAV file.", Convert, Severity.Error);
    }

    private static bool IsRiff(ReadOnlySpan<byte> b) => b[..4].SequenceEqual("RIFF"u8) || b[..4].SequenceEqual("RF64"u8);

    // First bytes as the formats' own specifications give them.
    private static string? Known(ReadOnlySpan<byte> b)
    {
        if (b.StartsWith("RIFX"u8)) return "a big-endian RIFX file";
        if (b.StartsWith("RIFF"u8) || b.StartsWith("RF64"u8)) return "a RIFF file without sound";
        if (b.StartsWith("FORM"u8)) return "an AIFF file";
        if (b.StartsWith("fLaC"u8)) return "a FLAC file";
        if (b.StartsWith("OggS"u8)) return "an Ogg file";
        if (b.StartsWith("caff"u8)) return "a CAF file";
        if (b.Length >= 8 && b[4..8].SequenceEqual("ftyp"u8)) return "an MP4 (M4A) file";
        if (b.StartsWith("ID3"u8) || (b.Length >= 2 && b[0] == 0xFF && (b[1] & 0xE6) == 0xE2)) return "an MP3 file";
        if (b.Length >= 4 && b[0] == 0x1A && b[1] == 0x45 && b[2] == 0xDF && b[3] == 0xA3) return "a WebM or Matroska file";
        return null;
    }
}
