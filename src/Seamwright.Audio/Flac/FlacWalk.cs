using Seamwright.Audio.Decoding;

namespace Seamwright.Audio.Flac;

/// <summary>A stretch of a FLAC file as the walk finds it.</summary>
/// <param name="Header">Of the frame that begins it.</param>
/// <param name="Length">Bytes up to the next frame.</param>
/// <param name="IsWhole">Whether the frame's check sum is right.</param>
/// <param name="IsLast">Whether the file ends with it.</param>
internal readonly record struct FlacPiece(FlacHeader Header, int Length, bool IsWhole, bool IsLast);

/// <summary>Finds frame after frame in a FLAC file, over damage.</summary>
/// <remarks>A frame does not say how long it is: it ends where a header of the same stream follows, or the file. Its check sum then tells
/// whether it is whole. A false header within a whole frame would have to agree in 16 bits of sync, eight of its check sum, the stream's
/// own codes and a number that comes next.</remarks>
/// <param name="bytes">From behind the first block.</param>
/// <param name="stream">What the file says of itself.</param>
internal sealed class FlacWalk(ByteWindow bytes, FlacStream stream)
{
    /// <summary>Bytes seen at once; no frame that is read here is longer.</summary>
    public const int Window = 1 << 20;

    // A hole of more frames belongs to no file that is worth mending: of 4,096 samples at 48 kHz, 28 minutes.
    private const long MostMissing = 20_000;

    private FlacHeader? first;
    private long last = -1;

    /// <summary>The next frame, still in the window, or null at the end.</summary>
    public FlacPiece? Next()
    {
        while (true)
        {
            var here = bytes.Peek(Window);
            if (here.Length < 6) return null;
            if (Fitting(here) is { } header)
            {
                first ??= header;
                last = header.Number;
                return Measured(here, header);
            }

            var further = here[1..].IndexOf((byte)0xFF);
            bytes.Skip(further < 0 ? here.Length : further + 1);
        }
    }

    private FlacPiece Measured(ReadOnlySpan<byte> here, FlacHeader header)
    {
        ushort crc = 0;
        for (var i = 0; i < here.Length; i++)
        {
            if (here[i] == 0xFF && i > header.Length && Fitting(here[i..]) is not null) return new(header, i, crc == 0, false);
            if (crc == 0 && i > header.Length && IsTag(here[i..])) return new(header, i, true, true);
            crc = FlacCrc.Next(crc, here[i]);
        }

        return new(header, here.Length, crc == 0, true);
    }

    private FlacHeader? Fitting(ReadOnlySpan<byte> here)
    {
        if (FlacHeader.Read(here[..Math.Min(here.Length, FlacHeader.Longest)]) is not { } found) return null;
        var channels = found.Channels < 8 ? found.Channels + 1 : 2;
        var fits = channels == stream.Channels && found.Samples <= stream.BlockSize && found.Number > last && found.Number - last <= MostMissing;
        return fits && (first is not { } known || found.Kind == known.Kind) ? found : null;
    }

    // ID3v1: 128 bytes at the end.
    private static bool IsTag(ReadOnlySpan<byte> here) => here.Length == 128 && here.StartsWith("TAG"u8);
}
