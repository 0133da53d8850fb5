namespace Seamwright.Audio;

/// <summary>What a file's content is.</summary>
internal enum SoundKind
{
    Unknown,
    Wav,
    Flac,
    Mp3,
    Vorbis,
    Opus,
    OtherOgg,
    Adts,
    Mp4,
    Matroska,
    Aiff,
    Caf,
    Au,
}

/// <summary>Tells kinds by their first bytes, as the formats' own specifications give them; names say nothing.</summary>
internal static class SoundKinds
{
    /// <summary>How many bytes it takes to tell.</summary>
    public const int HeadLength = 8192;

    /// <param name="head">The first bytes, tags before them left out.</param>
    public static SoundKind Tell(ReadOnlySpan<byte> head)
    {
        if (head.Length >= 12 && (head.StartsWith("RIFF"u8) || head.StartsWith("RF64"u8)) && head[8..12].SequenceEqual("WAVE"u8)) return SoundKind.Wav;
        if (head.StartsWith("fLaC"u8)) return SoundKind.Flac;
        if (head.StartsWith("OggS"u8)) return TellOgg(head);
        if (head.StartsWith("caff"u8)) return SoundKind.Caf;
        if (head.StartsWith(".snd"u8)) return SoundKind.Au;
        if (head.Length >= 12 && head.StartsWith("FORM"u8) && head[8..11].SequenceEqual("AIF"u8)) return SoundKind.Aiff;
        if (head.StartsWith<byte>([0x1A, 0x45, 0xDF, 0xA3])) return SoundKind.Matroska;
        if (head.Length >= 8 && IsMovieBox(head[4..8])) return SoundKind.Mp4;
        return TellFrames(head);
    }

    /// <summary>As a player knows it.</summary>
    public static string Name(SoundKind kind) => kind switch
    {
        SoundKind.Wav => "WAV",
        SoundKind.Flac => "FLAC",
        SoundKind.Mp3 => "MP3",
        SoundKind.Vorbis => "Ogg Vorbis",
        SoundKind.Opus => "Opus",
        SoundKind.OtherOgg => "Ogg",
        SoundKind.Adts => "AAC",
        SoundKind.Mp4 => "MP4 (M4A, MOV)",
        SoundKind.Matroska => "WebM (Matroska)",
        SoundKind.Aiff => "AIFF",
        SoundKind.Caf => "CAF",
        SoundKind.Au => "AU",
        _ => "unknown",
    };

    // A QuickTime file may begin with any of its boxes.
    private static bool IsMovieBox(ReadOnlySpan<byte> type) =>
        type.SequenceEqual("ftyp"u8) || type.SequenceEqual("moov"u8) || type.SequenceEqual("mdat"u8) || type.SequenceEqual("wide"u8) || type.SequenceEqual("skip"u8) || type.SequenceEqual("free"u8);

    private static SoundKind TellOgg(ReadOnlySpan<byte> head)
    {
        // The streams' first pages stand at the head; a film's sound may come second.
        if (head.IndexOf("OpusHead"u8) >= 0) return SoundKind.Opus;
        return head.IndexOf("\u0001vorbis"u8) >= 0 ? SoundKind.Vorbis : SoundKind.OtherOgg;
    }

    // MPEG audio and ADTS have no head, only frames: three in step are no accident, two only where the file ends with them.
    private static SoundKind TellFrames(ReadOnlySpan<byte> head)
    {
        for (var at = 0; at + 8 < head.Length; at++)
        {
            if (head[at] != 0xFF) continue;
            if (InStep(head[at..], MpegLength, head.Length < HeadLength)) return SoundKind.Mp3;
            if (InStep(head[at..], AdtsLength, head.Length < HeadLength)) return SoundKind.Adts;
        }

        return SoundKind.Unknown;
    }

    private delegate int FrameLength(ReadOnlySpan<byte> bytes);

    private static bool InStep(ReadOnlySpan<byte> bytes, FrameLength lengthOf, bool endsHere)
    {
        var count = 0;
        for (; count < 3 && bytes.Length >= 8; count++)
        {
            var length = lengthOf(bytes);
            if (length == 0) return false;
            bytes = bytes[Math.Min(length, bytes.Length)..];
        }

        return count >= (endsHere ? 2 : 3);
    }

    private static int MpegLength(ReadOnlySpan<byte> bytes) => Mpeg.FrameHeader.Read(bytes)?.Length ?? 0;

    // ISO/IEC 13818-7, 6.2: sync of twelve bits, layer 0, a length of thirteen bits.
    private static int AdtsLength(ReadOnlySpan<byte> bytes)
    {
        if (bytes[0] != 0xFF || (bytes[1] & 0xF6) != 0xF0 || ((bytes[2] >> 2) & 15) > 12) return 0;
        var length = ((bytes[3] & 3) << 11) | (bytes[4] << 3) | (bytes[5] >> 5);
        return length > 7 ? length : 0;
    }
}
