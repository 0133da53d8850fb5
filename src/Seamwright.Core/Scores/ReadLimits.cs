using System.Collections.Immutable;

namespace Seamwright.Core.Scores;

/// <summary>What a score file may ask of the machine; beyond it the reader stops with a message.</summary>
/// <remarks>Every default is a proposed default: far above any real part, far below what would hurt.</remarks>
public sealed record ReadLimits
{
    public static readonly ReadLimits Default = new();

    /// <summary>Bytes of a file, packed or unpacked; 1 kB to 1 GB. Default 32 MB.</summary>
    public long MostBytes { get; init; } = 32L << 20;

    /// <summary>Elements inside elements; 8 to 1,000. Default 64 (MusicXML needs about 12).</summary>
    public int MostDepth { get; init; } = 64;

    /// <summary>Elements in all; 100 to 20 million. Default 3 million.</summary>
    public int MostElements { get; init; } = 3_000_000;

    /// <summary>Entries of a compressed file; 1 to 10,000. Default 256.</summary>
    public int MostEntries { get; init; } = 256;

    /// <summary>Unpacked over packed size of an entry, looked at from 1 MB on; 1 to 1,000. Default 200 (scores pack about 20 : 1).</summary>
    public int MostRatio { get; init; } = 200;

    /// <summary>Parts of a score; 1 to 1,000. Default 128.</summary>
    public int MostParts { get; init; } = 128;

    /// <summary>Bars of a part; 1 to 100,000. Default 20,000.</summary>
    public int MostBars { get; init; } = 20_000;

    /// <summary>Bars of all voices of all parts; 1 to 2 million. Default 200,000 (a long symphony has some 50,000).</summary>
    public int MostBarsInAll { get; init; } = 200_000;

    /// <summary>Voices of a part; 1 to 64. Default 16.</summary>
    public int MostVoices { get; init; } = 16;

    /// <summary>Notes and rests of an ABC or MIDI file; 1 to 10 million. Default 500,000.</summary>
    public int MostNotes { get; init; } = 500_000;

    /// <summary>Every limit out of its range.</summary>
    public ImmutableArray<Problem> Validate()
    {
        var problems = ImmutableArray.CreateBuilder<Problem>();
        Check(MostBytes, 1 << 10, 1L << 30, "most bytes");
        Check(MostDepth, 8, 1000, "most depth");
        Check(MostElements, 100, 20_000_000, "most elements");
        Check(MostEntries, 1, 10_000, "most entries");
        Check(MostRatio, 1, 1000, "most ratio");
        Check(MostParts, 1, 1000, "most parts");
        Check(MostBars, 1, 100_000, "most bars");
        Check(MostBarsInAll, 1, 2_000_000, "most bars in all");
        Check(MostVoices, 1, 64, "most voices");
        Check(MostNotes, 1, 10_000_000, "most notes");
        return problems.ToImmutable();

        void Check(long value, long low, long high, string name)
        {
            if (value < low || value > high)
                problems.Add(new Problem("read limits", $"{name} is {value}.", $"It must be {low} to {high}.", Severity.Error));
        }
    }
}

/// <summary>A file asks for more than <see cref="ReadLimits"/> allow; caught inside the reader.</summary>
internal sealed class LimitException(string what) : Exception(what);
