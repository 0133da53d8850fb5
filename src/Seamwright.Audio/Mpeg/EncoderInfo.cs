using System.Buffers.Binary;

namespace Seamwright.Audio.Mpeg;

/// <summary>What encoders leave in a first frame without sound: how many frames follow, and what they put before and after the
/// sound.</summary>
/// <remarks>Layout as published with the LAME encoder ("Mp3 Info Tag rev 1"), which others follow.</remarks>
/// <param name="Frames">Frames of sound, or 0 where it is not said.</param>
/// <param name="Delay">Samples that the encoder put before the sound; null where it is not said.</param>
/// <param name="Padding">Samples after it.</param>
internal sealed record EncoderInfo(long Frames, int? Delay, int Padding)
{
    /// <summary>What every decoder of layer III adds: its filter bank's delay.</summary>
    public const int DecoderDelay = 529;

    /// <summary>How many samples of sound are promised in each channel, or null where it is not said (or is nonsense).</summary>
    public long? SoundFrames(FrameHeader header)
    {
        var all = (Frames * header.Samples) - (Delay ?? 0) - Padding;
        return Frames > 0 && Frames < 10_000_000 && all > 0 ? all : null;
    }

    /// <summary>Reads it, or null where the frame is an ordinary one.</summary>
    public static EncoderInfo? Read(FrameHeader header, ReadOnlySpan<byte> frame)
    {
        if (header.Layer != 3) return null;
        if (frame.Length >= 54 && frame[36..40].SequenceEqual("VBRI"u8)) return new EncoderInfo(BinaryPrimitives.ReadUInt32BigEndian(frame[50..]), null, 0);
        var at = 4 + header.SideLength + (header.HasCrc ? 2 : 0);
        return Tagged(frame, at) ?? Tagged(frame, 4 + header.SideLength);
    }

    private static EncoderInfo? Tagged(ReadOnlySpan<byte> frame, int at)
    {
        if (frame.Length < at + 8) return null;
        var tag = frame.Slice(at, 4);
        if (!tag.SequenceEqual("Xing"u8) && !tag.SequenceEqual("Info"u8)) return null;
        var flags = frame[at + 7];
        at += 8;
        long frames = (flags & 1) != 0 && frame.Length >= at + 4 ? BinaryPrimitives.ReadUInt32BigEndian(frame[at..]) : 0;
        at += ((flags & 1) != 0 ? 4 : 0) + ((flags & 2) != 0 ? 4 : 0) + ((flags & 4) != 0 ? 100 : 0) + ((flags & 8) != 0 ? 4 : 0);

        // The encoder's name takes 9 bytes, and 12 lie between it and the two numbers of 12 bits.
        if (frame.Length < at + 24 || frame[at] == 0) return new EncoderInfo(frames, null, 0);
        var numbers = frame.Slice(at + 21, 3);
        return new EncoderInfo(frames, (numbers[0] << 4) | (numbers[1] >> 4), ((numbers[1] & 15) << 8) | numbers[2]);
    }
}
