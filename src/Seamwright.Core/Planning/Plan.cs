using System.Collections.Immutable;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Planning;

/// <summary>A line with a slide setting for every note that has one, and the kind of every change.</summary>
public sealed record Plan
{
    public required Line Line { get; init; }

    public required Instrument Instrument { get; init; }

    public required Player Player { get; init; }

    /// <summary>One for each played note, same order and index.</summary>
    public required ImmutableArray<PlannedNote> Notes { get; init; }

    /// <summary>One for each pair of neighbouring notes: change i leads from note i to note i + 1.</summary>
    public required ImmutableArray<NoteChange> Changes { get; init; }

    /// <summary>Total of the stated cost; smaller is better.</summary>
    public required double Cost { get; init; }

    public required ImmutableArray<Problem> Problems { get; init; }

    /// <summary>Some of its notes, with the changes between them, as a plan of their own.</summary>
    /// <param name="first">Index of the first note.</param>
    /// <param name="last">Index of the last note.</param>
    /// <param name="start">What becomes time 0.</param>
    /// <remarks>Only times in seconds are moved: places in beats, bars and the tempo map stay the whole plan's.</remarks>
    public Plan Excerpt(int first, int last, Seconds start)
    {
        var notes = Notes.Skip(first).Take(last - first + 1).Select((n, i) => n with { Note = n.Note with { Index = i, StartTime = n.Note.StartTime - start } }).ToImmutableArray();
        return this with
        {
            Line = Line with { Notes = [.. notes.Select(n => n.Note)] },
            Notes = notes,
            Changes = [.. Changes.Skip(first).Take(last - first).Select((c, i) => c with { Index = i, FromNote = i, ToNote = i + 1 })],
        };
    }

    /// <summary>Whether both notes of a change are played on one partial of one tube.</summary>
    public bool StaysOnPartial(NoteChange change) => Notes[change.FromNote].Setting is { } a && Notes[change.ToNote].Setting is { } b && (a.Side.Id, a.Partial) == (b.Side.Id, b.Partial);

    /// <summary>Changes from the hardest down; those that need nothing are left out.</summary>
    public IEnumerable<NoteChange> Hardest => Changes.Where(c => c.Difficulty > 0).OrderByDescending(c => c.Difficulty).ThenBy(c => c.Index);
}

/// <summary>A played note and how to play it.</summary>
public sealed record PlannedNote
{
    public required PlayedNote Note { get; init; }

    /// <summary>Null where the instrument or the player cannot reach the note: a Problem then says so.</summary>
    public required SlideSetting? Setting { get; init; }

    /// <summary>Every other setting that is allowed, cheapest first.</summary>
    public required ImmutableArray<Alternative> Alternatives { get; init; }

    /// <summary>Whether a lock fixed the setting.</summary>
    public bool Locked { get; init; }
}

/// <summary>Another way to play a note.</summary>
/// <param name="Setting">The setting.</param>
/// <param name="ExtraCost">What the best plan with this setting costs more than the best plan of all; at least 0.</param>
public sealed record Alternative(SlideSetting Setting, double ExtraCost);

/// <summary>How two neighbouring notes are joined or parted.</summary>
public enum ChangeKind
{
    /// <summary>The partial changes against the slide or without it: it separates by itself.</summary>
    NaturalSlur,

    /// <summary>A valve moves and the pitch jumps with it: it separates by itself.</summary>
    ValveSlur,

    /// <summary>A light touch of the tongue hides the slide; the air goes on.</summary>
    SoftTongue,

    /// <summary>An ordinary tongued beginning, outside any slur.</summary>
    Tongued,

    /// <summary>A rest or a breath lies between.</summary>
    Breath,

    /// <summary>The slide is left open: a written glissando, or an exercise that leaves the tongue out.</summary>
    Glissando,
}

public enum PitchMotion
{
    Same, Up, Down,
}

public enum SlideMotion
{
    Still, In, Out,
}

/// <summary>One pair of neighbouring notes: what happens between them and what it asks of the player.</summary>
public sealed record NoteChange
{
    /// <summary>Place in the plan, from 0; leads from note <see cref="FromNote"/> to <see cref="ToNote"/>.</summary>
    public required int Index { get; init; }

    public required int FromNote { get; init; }

    public required int ToNote { get; init; }

    public required ChangeKind Kind { get; init; }

    /// <summary>What an exercise asks of this change; null where it asks what <see cref="Kind"/> says.</summary>
    public ChangeIntent? Intent { get; init; }

    /// <summary>One sentence a pupil understands.</summary>
    public required string Reason { get; init; }

    /// <summary>Slide travel, positive outward; null where one of the notes has no setting.</summary>
    public required Centimetres? Travel { get; init; }

    public required PitchMotion PitchMotion { get; init; }

    public required SlideMotion SlideMotion { get; init; }

    /// <summary>From the beginning of the first note to the beginning of the second.</summary>
    public required Seconds TimeAvailable { get; init; }

    /// <summary>How long the arm's movement takes; zero for a still slide.</summary>
    public required Seconds MoveTime { get; init; }

    /// <summary>Peak of the minimum-jerk movement, 1.875·D/T, in metres per second; 0 for a still slide.</summary>
    public required double PeakSpeed { get; init; }

    /// <summary>Middle of the tongue's touch against the second note's written beginning (negative: before it); null where no tongue is asked for.</summary>
    public required Seconds? TongueOffset { get; init; }

    /// <summary>How long the slide would be heard without a tongue, 10 to 90 % of the glide; zero where it would not be.</summary>
    public required Seconds SmearIfUntongued { get; init; }

    /// <summary>0 (nothing to do) to 1 (at or beyond the limit); see <c>ChangeDifficulty</c>.</summary>
    public required double Difficulty { get; init; }

    /// <summary>Whether the peak speed stays within the player's limit.</summary>
    public required bool Plausible { get; init; }
}
