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

    /// <summary>Kilobits a second of an MP3, both channels together: one of the standard's. Default null: 128 for mono, 192 for stereo
    /// (less below 32 kHz, where the standard ends at 160 and, below 16 kHz, at 64).</summary>
    public int? Mp3Kilobits { get; init; }

    /// <summary>Where the program ffmpeg lies, which FLAC and MP3 take. Default null: it is looked for on the path. Empty: there is none.</summary>
    public string? Ffmpeg { get; init; }

    /// <summary>How long ffmpeg may take nothing from us before it is ended, in seconds. Default 30.</summary>
    public double StallSeconds { get; init; } = 30;
}
