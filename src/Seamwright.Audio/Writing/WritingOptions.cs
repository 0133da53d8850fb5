namespace Seamwright.Audio.Writing;

/// <summary>How sound files are written.</summary>
public sealed record WritingOptions
{
    public static readonly WritingOptions Default = new();

    /// <summary>How samples are stored in WAV and FLAC (FLAC holds integers only). Default 16 bits with triangular dither: its
    /// noise lies 93 dB below full scale, below that of any room. MP3 and Opus take the floats as they are.</summary>
    public WavFormat Samples { get; init; } = WavFormat.Pcm16;

    /// <summary>Seed of the dither: the same seed gives the same file. Default 1.</summary>
    public uint Seed { get; init; } = 1;

    /// <summary>Bits a second and channel of an Opus file. Default 80,000; range 16,000 to 256,000.</summary>
    public int OpusRate { get; init; } = 80_000;

    /// <summary>Kilobits a second of an MP3, both channels together: one of the standard's, or the highest below it that the sample
    /// rate knows (below 32 kHz at most 160, below 16 kHz 64). The encoder makes the sound up to 0.5 dB softer then. Default null:
    /// as many as a high quality takes at each moment, and the level is kept.</summary>
    public int? Mp3Kilobits { get; init; }

    /// <summary>Where the program ffmpeg lies, which FLAC and MP3 take. Default null: it is looked for on the path. Empty: there is none.</summary>
    public string? Ffmpeg { get; init; }

    /// <summary>How long ffmpeg may take nothing from us before it is ended, in seconds. Default 30.</summary>
    public double StallSeconds { get; init; } = 30;

    /// <summary>Refuses what no file can be.</summary>
    /// <exception cref="ArgumentOutOfRangeException">An option is out of range.</exception>
    internal void Check()
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(OpusRate, 16_000);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(OpusRate, 256_000);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(StallSeconds);
        if (Mp3Kilobits is { } kilobits && !Mp3Rates.IsKnown(kilobits)) throw new ArgumentOutOfRangeException(nameof(Mp3Kilobits), $"MP3 knows no {kilobits} kbit/s.");
    }
}
