using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores;

/// <summary>What the sheet leaves to the player when it is played.</summary>
public sealed record UnfoldSettings
{
    public static readonly UnfoldSettings Default = new();

    /// <summary>Tempo where the sheet gives none, in quarter notes a minute, 1 to 1000. Default 100 (proposed default).</summary>
    public double DefaultTempo { get; init; } = 100;

    /// <summary>How much a fermata adds to its note, as a share of the note's own time, 0 to 4. Default 0.75: between half as
    /// long again and twice as long (common practice).</summary>
    public double FermataShare { get; init; } = 0.75;

    /// <summary>The most a fermata adds, 0 to 60 s. Default 3 s (proposed default), so that a long last note stays playable in one breath.</summary>
    public Seconds LongestHold { get; init; } = new(3);

    /// <summary>The longest a quick grace note takes, in quarter notes, more than 0, at most 1. Default a sixteenth (proposed default).</summary>
    public Beats QuickGrace { get; init; } = new(1, 4);

    /// <summary>Bars played at most, 1 to 1,000,000: what stops a road that never ends. Default 20,000.</summary>
    public int MostBars { get; init; } = 20_000;

    /// <summary>Every setting out of its range.</summary>
    public ImmutableArray<Problem> Validate()
    {
        var problems = ImmutableArray.CreateBuilder<Problem>();
        Check(DefaultTempo is >= 1 and <= 1000, "default tempo", DefaultTempo, "1 to 1000 quarter notes a minute");
        Check(FermataShare is >= 0 and <= 4, "fermata share", FermataShare, "0 to 4");
        Check(LongestHold.Value is >= 0 and <= 60, "longest hold", LongestHold, "0 to 60 s");
        Check(QuickGrace > Beats.Zero && QuickGrace <= Beats.Quarter, "quick grace", QuickGrace, "more than 0, at most 1 quarter note");
        Check(MostBars is >= 1 and <= 1_000_000, "most bars", MostBars, "1 to 1,000,000");
        return problems.ToImmutable();

        void Check(bool ok, string name, object value, string range)
        {
            if (!ok) problems.Add(new Problem("playing", $"{name} is {value}.", $"It must be {range}.", Severity.Error));
        }
    }
}
