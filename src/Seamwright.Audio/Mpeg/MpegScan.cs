using Seamwright.Audio.Decoding;

namespace Seamwright.Audio.Mpeg;

/// <summary>A look over all frames of an MPEG file before it is decoded.</summary>
/// <param name="First">The first frame's header.</param>
/// <param name="Promised">Seconds of sound that its encoder says it holds; null where it does not say.</param>
/// <param name="IsWhole">Whether frame follows on frame without damage.</param>
internal sealed record MpegScan(FrameHeader First, double? Promised, bool IsWhole)
{
    /// <summary>Looks from where the file stands to its end, or null where there is no frame.</summary>
    public static MpegScan? Of(Stream file)
    {
        var bytes = new ByteWindow(file, 1 << 16);
        var walk = new FrameWalk(bytes);
        if (walk.Next() is not { } first) return null;
        var info = EncoderInfo.Read(first, bytes.Peek(first.Length));
        var isWhole = true;
        bytes.Skip(first.Length);
        while (walk.Next() is { } next)
        {
            isWhole &= walk.Skipped == 0;
            bytes.Skip(next.Length);
        }

        return new MpegScan(first, info?.SoundFrames(first) / (double)first.Rate, isWhole);
    }
}
