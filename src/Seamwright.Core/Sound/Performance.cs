using System.Collections.Immutable;
using Seamwright.Core.Planning;
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

    /// <summary>What each note's level does beside that while it sounds; one for each note of the plan, same order. Empty: nothing.</summary>
    public ImmutableArray<LevelLine> Swells { get; init; } = [];

    /// <summary>The player's tempo against the plan's: 1.1 is ten per cent faster. Default 1.</summary>
    public double TempoRatio { get; init; } = 1;

    /// <summary>Silence before the first note. Default 0.5 s.</summary>
    public Seconds LeadIn { get; init; } = new(0.5);

    /// <summary>Silence after the last note. Default 0.5 s.</summary>
    public Seconds Tail { get; init; } = new(0.5);

    /// <summary>What belongs to some of its notes and the changes between them.</summary>
    /// <param name="first">Index of the first note.</param>
    /// <param name="last">Index of the last note.</param>
    public Performance Excerpt(int first, int last) => this with
    {
        Changes = Changes[first..last],
        Cents = Cents[first..(last + 1)],
        Levels = Levels.IsDefaultOrEmpty ? [] : Levels[first..(last + 1)],
        Swells = Swells.IsDefaultOrEmpty ? [] : Swells[first..(last + 1)],
    };

    /// <summary>Whether the plan can be played so.</summary>
    /// <exception cref="ArgumentException">The performance does not fit the plan, or a figure is out of range.</exception>
    internal void Check(Plan plan)
    {
        if (Changes.Length != plan.Changes.Length)
            throw new ArgumentException($"The plan has {plan.Changes.Length} changes and the performance {Changes.Length}.");
        if (Cents.Length != plan.Notes.Length || (!Levels.IsDefaultOrEmpty && Levels.Length != plan.Notes.Length) || (!Swells.IsDefaultOrEmpty && Swells.Length != plan.Notes.Length))
            throw new ArgumentException($"The plan has {plan.Notes.Length} notes; the performance must give cents (and levels and swells, if any) for each.");
        if (!(TempoRatio is >= 0.1 and <= 10))
            throw new ArgumentException($"A tempo ratio lies between 0.1 and 10, not {TempoRatio}.");
        if (Changes.FirstOrDefault(c => !IsPossible(c)) is { } wrong)
            throw new ArgumentException($"No execution can be {wrong}.");
    }

    private static bool IsPossible(ChangeExecution c) =>
        new[] { c.Move.Value, c.DipWidth.Value, c.Dip.Value, c.Gap.Value, c.Rest.Value, c.Bump.Value, c.Glide?.Value ?? 0 }.All(v => v >= 0 && double.IsFinite(v))
        && c.Break.Value > 0 && c.Lips.Value > 0 && c.BreakAt is >= 0 and <= 1 && double.IsFinite(c.Centre.Value) && double.IsFinite(c.DipOffset.Value) && double.IsFinite(c.TongueFirst.Value)
        && (c.Crack is null || (c.Crack.Partial >= 1 && c.Crack.Duration.Value > 0));
}
