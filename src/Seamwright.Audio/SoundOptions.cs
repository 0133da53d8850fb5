namespace Seamwright.Audio;

/// <summary>How sound files are opened.</summary>
public sealed record SoundOptions
{
    public static readonly SoundOptions Default = new();

    public AudioLimits Limits { get; init; } = AudioLimits.Default;

    /// <summary>Where the program ffmpeg lies. Default null: it is looked for on the path. Empty: there is none.</summary>
    public string? Ffmpeg { get; init; }

    /// <summary>Who decodes where both can. Default <see cref="DecoderChoice.Best"/>.</summary>
    public DecoderChoice Decoder { get; init; }
}

/// <summary>Who decodes a format that both a managed decoder and ffmpeg can read.</summary>
public enum DecoderChoice
{
    /// <summary>Whichever was measured to be the better one; the managed one wherever ffmpeg is missing.</summary>
    Best,

    /// <summary>The managed decoder.</summary>
    Managed,

    /// <summary>The program ffmpeg.</summary>
    Ffmpeg,
}
