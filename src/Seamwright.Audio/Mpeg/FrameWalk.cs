using Seamwright.Audio.Decoding;

namespace Seamwright.Audio.Mpeg;

/// <summary>Finds frame after frame in a stream, over tags and damage.</summary>
internal sealed class FrameWalk(ByteWindow bytes)
{
    /// <summary>The longest frame: layer II, 384 kbit/s at 32 kHz, needs 1,729 bytes.</summary>
    public const int LongestFrame = 2048;

    private FrameHeader? stream;

    /// <summary>Bytes passed over before the frame that was found last.</summary>
    public long Skipped { get; private set; }

    /// <summary>Whether the stream ended within a frame.</summary>
    public bool BrokeOff { get; private set; }

    /// <summary>The next frame, still in the window, or null at the end.</summary>
    public FrameHeader? Next()
    {
        Skipped = 0;
        while (true)
        {
            var here = bytes.Peek(2 * LongestFrame);
            if (here.Length < 4) return null;
            if (TagLength(here) is var tag && tag > 0)
            {
                bytes.Skip(tag);
                continue;
            }

            if (FrameAt(here) is { } found)
            {
                if (here.Length < found.Length) return AtEnd(here.Length);
                stream ??= found;
                return found;
            }

            if (IsLastTag(here)) return AtEnd(here.Length, brokeOff: false);
            bytes.Skip(1);
            Skipped++;
        }
    }

    private FrameHeader? AtEnd(int length, bool brokeOff = true)
    {
        BrokeOff = brokeOff;
        bytes.Skip(length);
        return null;
    }

    // In step one header is enough; out of step the next frame must stand where this one says.
    private FrameHeader? FrameAt(ReadOnlySpan<byte> here)
    {
        if (FrameHeader.Read(here) is not { } found || (stream is { } known && !found.Fits(known))) return null;
        if (stream is not null && Skipped == 0) return found;
        var after = here[Math.Min(found.Length, here.Length)..];
        if (after.Length < 4) return stream is null && here.Length < found.Length ? null : found;
        return FrameHeader.Read(after) is { } next && next.Fits(found) ? found : IsLastTag(after) ? found : null;
    }

    // ID3v2: ten bytes, a size of four times seven bits, and perhaps ten bytes at the end.
    public static long TagLength(ReadOnlySpan<byte> here)
    {
        if (here.Length < 10 || !here.StartsWith("ID3"u8) || here[3] == 0xFF) return 0;
        if (((here[6] | here[7] | here[8] | here[9]) & 0x80) != 0) return 0;
        return 10 + (here[6] << 21 | here[7] << 14 | here[8] << 7 | here[9]) + ((here[5] & 0x10) != 0 ? 10 : 0);
    }

    private static bool IsLastTag(ReadOnlySpan<byte> here) => here.StartsWith("TAG"u8) || here.StartsWith("APETAGEX"u8) || here.StartsWith("LYRICSBEGIN"u8);
}
