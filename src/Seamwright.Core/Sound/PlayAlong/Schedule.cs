using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.PlayAlong;

public enum SectionKind
{
    /// <summary>Bars counted before a round.</summary>
    CountIn,

    /// <summary>The trombone plays.</summary>
    Example,

    /// <summary>The pupil plays.</summary>
    You,

    /// <summary>Beats that go by until the bar comes round to where the next phrase begins.</summary>
    Wait,
}

/// <summary>A stretch of a play-along in which one thing happens. Times are samples from the beginning; sections follow one another
/// without gaps.</summary>
public sealed record Section
{
    public required SectionKind Kind { get; init; }

    /// <summary>From 1.</summary>
    public required int Round { get; init; }

    /// <summary>Place among the round's phrases, from 1; in a count-in or wait that of the phrase to come, and 0 where none comes.</summary>
    public required int PhraseNumber { get; init; }

    /// <summary>What is played; null in a count-in or wait.</summary>
    public required Phrase? Phrase { get; init; }

    public required long Start { get; init; }

    public required long Length { get; init; }

    public long End => Start + Length;
}

/// <summary>A beat, or a division of one, at its time.</summary>
/// <param name="At">Sample.</param>
/// <param name="Strength">How strong.</param>
/// <param name="Section">Index of its section.</param>
/// <param name="Bar">Printed number; empty in a count-in or wait.</param>
/// <param name="Number">Place in the bar, 1 for the downbeat, counted in the lower number of the meter.</param>
/// <param name="Place">In the played line; null in a count-in or wait.</param>
public sealed record ScheduledBeat(long At, BeatStrength Strength, int Section, string Bar, Beats Number, Beats? Place);

/// <summary>Once through the part.</summary>
/// <param name="Plan">At this round's tempo.</param>
/// <param name="Start">Sample at which its count-in begins.</param>
/// <param name="End">Sample at which its last section ends.</param>
public sealed record Round(Plan Plan, long Start, long End)
{
    /// <summary>Quarter notes a minute at the beginning.</summary>
    public double Tempo => Plan.Line.Tempo.Marks[0].QuartersPerMinute;
}

/// <summary>Everything that happens in a play-along and when: sound, cue sheet and time map are read off it.</summary>
public sealed record Schedule
{
    public required PlayAlongSettings Settings { get; init; }

    /// <summary>At least one.</summary>
    public required ImmutableArray<Round> Rounds { get; init; }

    /// <summary>In order of time.</summary>
    public required ImmutableArray<Section> Sections { get; init; }

    /// <summary>In order of time, divisions among them.</summary>
    public required ImmutableArray<ScheduledBeat> Beats { get; init; }

    /// <summary>Samples in all, the end's dying away included, but not what a room rings on.</summary>
    public required long Length { get; init; }

    /// <summary>Samples of its sound: <see cref="Length"/> and what a room rings on.</summary>
    public long WithRing => Length + Rate.ToSamples(PlayAlongMaker.RingOf(Settings));

    /// <summary>What the examples get wrong on purpose, every struck change named; clean by default.</summary>
    public FaultOrder Faults { get; init; } = FaultOrder.Clean;

    public SampleRate Rate => Settings.Rate;

    public Plan PlanOf(Section section) => Rounds[section.Round - 1].Plan;

    /// <summary>Whether an example leads through this change, by its index in the plan: from one phrase to the next none does.</summary>
    public bool Plays(int change) =>
        Sections.Any(s => s.Kind == SectionKind.Example && s.Phrase is { } p && p.FirstNote <= change && change < p.LastNote);

    /// <summary>When a place of a section's phrase comes.</summary>
    /// <param name="section">An example or the pupil's turn.</param>
    /// <param name="place">In the played line, within the phrase.</param>
    /// <returns>Sample from the beginning.</returns>
    public long TimeOf(Section section, Beats place)
    {
        var phrase = section.Phrase ?? throw new ArgumentException("Nothing is played in a count-in or wait.", nameof(section));
        return section.Start + Rate.ToSamples(PlanOf(section).Line.Tempo.Between(phrase.From, place));
    }
}
