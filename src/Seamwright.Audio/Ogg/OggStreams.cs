using Seamwright.Audio.Decoding;
using Seamwright.Core;

namespace Seamwright.Audio.Ogg;

/// <summary>Finds the sound among the streams of an Ogg file.</summary>
internal static class OggStreams
{
    /// <summary>The first stream of Opus or Vorbis, or null where none begins at the head of the file.</summary>
    public static OggPage? FindSound(OggPages pages)
    {
        // All streams begin before any goes on (RFC 3533, section 4).
        while (pages.Next() is { Begins: true } page)
        {
            if (page.Packets.Count > 0 && (IsOpus(page) || IsVorbis(page))) return page;
        }

        return null;
    }

    public static bool IsOpus(OggPage page) => page.Packets[0].AsSpan().StartsWith("OpusHead"u8);

    public static bool IsVorbis(OggPage page) => page.Packets[0].AsSpan().StartsWith("\u0001vorbis"u8);

    public static void TellAnother(ProblemLog log) =>
        log.Say("holds more than one recording, one after another.", "Only the first one is used.", Severity.Warning);
}
