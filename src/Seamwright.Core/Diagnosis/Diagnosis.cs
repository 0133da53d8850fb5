using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Diagnosis;

/// <summary>What a take says about the playing: a verdict and a sentence for every note and change, and what to work on first.</summary>
public sealed record Diagnosis
{
    /// <summary>One for each note of the plan, same order and index.</summary>
    public required ImmutableArray<NoteJudgement> Notes { get; init; }

    /// <summary>One for each change of the plan, same order and index.</summary>
    public required ImmutableArray<ChangeJudgement> Changes { get; init; }

    public required DiagnosisSummary Summary { get; init; }

    /// <summary>The limits that were used.</summary>
    public required VerdictSettings Settings { get; init; }
}

/// <summary>What is said about one note.</summary>
public sealed record NoteJudgement
{
    public required int Index { get; init; }

    /// <summary>Never empty: <see cref="Verdict.Clean"/> where there is nothing to say.</summary>
    public required ImmutableArray<Finding> Findings { get; init; }

    /// <summary>One plain sentence.</summary>
    public required string Advice { get; init; }

    /// <summary>Null where the pitch could not be measured.</summary>
    public Intonation? Intonation { get; init; }

    /// <summary>How far the slide must move to be in tune at the planned setting: positive out, negative in.
    /// Null where the pitch or the setting is unknown.</summary>
    public Centimetres? SlideCorrection { get; init; }

    public ImmutableArray<Verdict> Verdicts => [.. Findings.Select(f => f.Verdict)];
}

public enum Intonation
{
    /// <summary>Nobody minds.</summary>
    Good,

    /// <summary>A trained ear notices.</summary>
    Watch,

    /// <summary>The melody sounds out of tune.</summary>
    Out,
}

/// <summary>What is said about one change.</summary>
public sealed record ChangeJudgement
{
    public required int Index { get; init; }

    /// <summary>What was asked for.</summary>
    public required ChangeKind Kind { get; init; }

    /// <summary>Never empty: <see cref="Verdict.Clean"/> where there is nothing to say.</summary>
    public required ImmutableArray<Finding> Findings { get; init; }

    /// <summary>One plain sentence for a pupil, with figures.</summary>
    public required string Advice { get; init; }

    /// <summary>How much it disturbs: 0 clean; larger is worse. Orders what to work on first.</summary>
    public required double Weight { get; init; }

    public ImmutableArray<Verdict> Verdicts => [.. Findings.Select(f => f.Verdict)];
}

/// <summary>The whole take in a few words.</summary>
public sealed record DiagnosisSummary
{
    public required int NotesAsked { get; init; }

    public required int NotesFound { get; init; }

    /// <summary>How often each verdict fell on a change; verdicts that never fell are absent.</summary>
    public required ImmutableSortedDictionary<Verdict, int> ChangeCounts { get; init; }

    /// <summary>How often each verdict fell on a note; verdicts that never fell are absent.</summary>
    public required ImmutableSortedDictionary<Verdict, int> NoteCounts { get; init; }

    /// <summary>At most three sentences, the worst first.</summary>
    public required ImmutableArray<string> WorkOnFirst { get; init; }

    /// <summary>Median of the notes' cents; null where none was measured.</summary>
    public Cents? Tuning { get; init; }

    /// <summary>The player's tempo against the plan's: 1.1 is ten per cent faster. Null where too little was found.</summary>
    public double? TempoRatio { get; init; }

    /// <summary>Notes, tuning and tempo in one or two sentences.</summary>
    public required string Overall { get; init; }
}
