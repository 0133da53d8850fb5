namespace Seamwright.Audio;

/// <summary>How samples are stored in a WAV file that is written.</summary>
public enum WavFormat
{
    /// <summary>16-bit integers with triangular dither.</summary>
    Pcm16,

    /// <summary>24-bit integers with triangular dither.</summary>
    Pcm24,

    /// <summary>32-bit float, exactly the samples given.</summary>
    Float32,
}
