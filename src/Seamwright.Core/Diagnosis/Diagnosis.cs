using System.Collections.Immutable;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
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

    /// <summary>Whether the recording is of this line: half of it was found, or half of a stretch of it in a recording that holds no more
    /// tones from elsewhere. Where it is not, nothing is said about the playing.</summary>
    public required bool IsRecognised { get; init; }

    /// <summary>One for each attempt of the take, same order; empty where the take tells no attempts apart.</summary>
    public ImmutableArray<AttemptJudgement> Attempts { get; init; } = [];

    /// <summary>One for each thing an exercise asked of its changes; empty where none asked.</summary>
    public ImmutableArray<Aim> Aims { get; init; } = [];

    /// <summary>Tones with touches beside the same tones without; empty where no exercise asked for both.</summary>
    public ImmutableArray<TonePair> TonePairs { get; init; } = [];

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

    /// <summary>Distance from the pitch it is judged against: the pass's own where that is known (<see cref="DiagnosisSummary.OwnTuning"/>),
    /// else the plan's. Null where it could not be measured.</summary>
    public Cents? Cents { get; init; }

    public Bounds<Cents>? CentsBounds { get; init; }

    /// <summary>How far the slide must move to be in tune at the setting that was played: positive out, negative in.
    /// Null where the pitch or the setting is unknown, and where the slide cannot go so far.</summary>
    public Centimetres? SlideCorrection { get; init; }

    /// <summary>Whether the slide would have to go further in than closed, or further out than its end.</summary>
    public bool BeyondSlide { get; init; }

    /// <summary>What else was heard, a sentence each: another setting, a drift, a vibrato.</summary>
    public ImmutableArray<string> Remarks { get; init; } = [];

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

    /// <summary>What an exercise asked for; null where it is what <see cref="Kind"/> says.</summary>
    public ChangeIntent? Intent { get; init; }

    /// <summary>What else was heard, a sentence each: how the arm moved, a break or slide against the plan.</summary>
    public ImmutableArray<string> Remarks { get; init; } = [];

    public ImmutableArray<Verdict> Verdicts => [.. Findings.Select(f => f.Verdict)];

    /// <summary>Each verdict once, as a reader is told: without <see cref="Verdict.CannotTell"/> where something else is sure.</summary>
    public ImmutableArray<Verdict> Shown => TakeParts.Shown(Verdicts);
}

/// <summary>What is said about one pass at the line.</summary>
public sealed record AttemptJudgement
{
    /// <summary>Whether this is the pass that <see cref="Diagnosis.Notes"/> and <see cref="Diagnosis.Changes"/> judge: the fullest, of equals the
    /// last, or the one that was asked for.</summary>
    public required bool Best { get; init; }

    /// <summary>One for each note of the plan; those outside the pass are <see cref="Verdict.CannotTell"/>.</summary>
    public required ImmutableArray<NoteJudgement> Notes { get; init; }

    /// <summary>One for each change of the plan; those outside the pass are <see cref="Verdict.CannotTell"/>.</summary>
    public required ImmutableArray<ChangeJudgement> Changes { get; init; }

    /// <summary>Changes that were heard and could not be judged.</summary>
    public int Open { get; init; }

    /// <summary>Changes with something to mend, of those that were heard.</summary>
    public int ToMend => Changes.Count(c => TakeParts.Worst(c.Findings).Gravity() is Gravity.Fault or Gravity.Watch);
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

    /// <summary>How far the whole lies above the plan's pitch; null where none was measured.</summary>
    public Cents? Tuning { get; init; }

    /// <summary>The same with its interval where it surely lies off; the notes are then judged against it.</summary>
    public OwnTuning? OwnTuning { get; init; }

    /// <summary>How far the tuning slide must move, positive out; null where the whole is in tune, where that cannot be told, and
    /// where no tuning slide goes so far.</summary>
    public Centimetres? TuningSlide { get; init; }

    /// <summary>The player's tempo against the plan's: 1.1 is ten per cent faster. Null where too little was found.</summary>
    public double? TempoRatio { get; init; }

    /// <summary>How many changes could not be judged, why, and what to do, where they are many; then notes, tuning and tempo. A few sentences.</summary>
    public required string Overall { get; init; }

    /// <summary>Which attempt is told, from 0; null where the take tells no attempts apart.</summary>
    public int? Attempt { get; init; }

    /// <summary>That attempt beside another full one, at most two sentences; empty where there is none.</summary>
    public ImmutableArray<string> Comparison { get; init; } = [];
}
