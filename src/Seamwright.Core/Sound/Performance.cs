using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

/// <summary>How a plan is played, note by note and change by change.</summary>
public sealed record Performance
{
    /// <summary>One for each change of the plan, same order.</summary>
    public required ImmutableArray<ChangeExecution> Changes { get; init; }

    /// <summary>Cents by which a note is played beside what its setting sounds; one for each note of the plan, same order.</summary>
    public required ImmutableArray<Cents> Cents { get; init; }

    /// <summary>Each note's level against the ordinary one; one for each note of the plan, same order. Empty: all at the ordinary level.</summary>
    public ImmutableArray<Decibels> Levels { get; init; } = [];

    /// <summary>The player's tempo against the plan's: 1.1 is ten per cent faster. Default 1.</summary>
    public double TempoRatio { get; init; } = 1;

    /// <summary>Silence before the first note. Default 0.5 s.</summary>
    public Seconds LeadIn { get; init; } = new(0.5);

    /// <summary>Silence after the last note. Default 0.5 s.</summary>
    public Seconds Tail { get; init; } = new(0.5);
}
