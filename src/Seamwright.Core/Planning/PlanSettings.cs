using System.Collections.Immutable;

namespace Seamwright.Core.Planning;

/// <summary>Everything a plan depends on besides the line and the instrument.</summary>
public sealed record PlanSettings
{
    public Player Player { get; init; } = new();

    public CostWeights Weights { get; init; } = CostWeights.NaturalFirst;

    /// <summary>Notes that must be played in one way.</summary>
    public ImmutableArray<NoteLock> Locks { get; init; } = [];

    /// <summary>Settings that no note may use (unless a lock asks for one).</summary>
    public ImmutableArray<SettingPattern> Bans { get; init; } = [];
}
