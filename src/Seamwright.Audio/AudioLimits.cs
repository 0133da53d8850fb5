namespace Seamwright.Audio;

/// <summary>What a file may be at most, so that a wrong or hostile one cannot take the machine's memory or time.</summary>
public sealed record AudioLimits
{
    public static readonly AudioLimits Default = new();

    /// <summary>Largest WAV that is read from a stream, in bytes. Default 512 MiB: an hour of mono 24-bit sound at 48 kHz. Files
    /// opened by their path stream and know no such limit.</summary>
    public long LargestFile { get; init; } = 512L << 20;

    /// <summary>Lowest sample rate, Hz. Default 8,000: below it nothing above 4 kHz is left.</summary>
    public int LowestRate { get; init; } = 8_000;

    /// <summary>Highest sample rate, Hz. Default 192,000.</summary>
    public int HighestRate { get; init; } = 192_000;

    /// <summary>Longest sound that is streamed, in hours. Default 6: what a file promises beyond a long day of practice is not believed.</summary>
    public double LongestHours { get; init; } = 6;

    /// <summary>Most samples that a whole recording may take in memory. Default 2²⁸ (1 GiB): 93 minutes at 48 kHz.</summary>
    public int MostSamples { get; init; } = 1 << 28;

    /// <summary>How long another program may leave us without a byte before it is ended, in seconds. Default 30.</summary>
    public double StallSeconds { get; init; } = 30;
}
