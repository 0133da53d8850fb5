namespace Seamwright.Audio;

/// <summary>What a file may be at most, so that a wrong or hostile one cannot take the machine's memory.</summary>
public sealed record AudioLimits
{
    public static readonly AudioLimits Default = new();

    /// <summary>Largest file that is read, in bytes. Default 512 MiB: an hour of mono 24-bit sound at 48 kHz.</summary>
    public long LargestFile { get; init; } = 512L << 20;

    /// <summary>Lowest sample rate, Hz. Default 8,000: below it nothing above 4 kHz is left.</summary>
    public int LowestRate { get; init; } = 8_000;

    /// <summary>Highest sample rate, Hz. Default 192,000.</summary>
    public int HighestRate { get; init; } = 192_000;
}
