using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Planning;

/// <summary>The person who plays: reach, speed and the teacher's way of tonguing.</summary>
public sealed record Player
{
    /// <summary>Furthest position the arm reaches, in open-horn units, 1 to 8; pupils of 9–11 usually reach six (Wright 2013).
    /// Default null: as far as the slide goes.</summary>
    public double? FurthestPosition { get; init; }

    /// <summary>Whether any valve may be used. Default true.</summary>
    public bool ValvesAllowed { get; init; } = true;

    public TonguePolicy Policy { get; init; } = TonguePolicy.WhereItWouldSmear;

    /// <summary>Which notes are to be joined. Default: as written, or everything where nothing is slurred.</summary>
    public LegatoScope Legato { get; init; } = LegatoScope.AsWrittenOrAll;

    /// <summary>Time of a slide move over one position (proposed default 160 ms; 155–205 ms measured on one player).</summary>
    public Seconds MoveTime { get; init; } = Seconds.FromMilliseconds(160);

    /// <summary>Added for each further position (proposed default 25 ms).</summary>
    public Seconds MoveTimePerPosition { get; init; } = Seconds.FromMilliseconds(25);

    /// <summary>Largest share of the note before that a move may take (proposed default 0.4).</summary>
    public double MoveShare { get; init; } = 0.4;

    /// <summary>Where in the arm's movement the tongue touches, 0 (start) to 1 (arrival); common practice is the middle, 0.5.</summary>
    public double TongueAt { get; init; } = 0.5;

    /// <summary>Peak arm speed above which a change is called implausible, in m/s (proposed default 4.5; 5.2 m/s is beyond anyone).</summary>
    public double FastestArm { get; init; } = 4.5;

    /// <summary>Every setting out of its range, with the range.</summary>
    public ImmutableArray<Problem> Validate()
    {
        var problems = ImmutableArray.CreateBuilder<Problem>();
        Check(FurthestPosition is null or (>= 1 and <= 8), "furthest position", FurthestPosition, "1 to 8");
        Check(MoveTime.Value is >= 0.02 and <= 2, "move time", MoveTime, "0.02 to 2 s");
        Check(MoveTimePerPosition.Value is >= 0 and <= 1, "move time per position", MoveTimePerPosition, "0 to 1 s");
        Check(MoveShare is > 0 and <= 1, "move share", MoveShare, "more than 0, at most 1");
        Check(TongueAt is >= 0 and <= 1, "tongue point", TongueAt, "0 to 1");
        Check(FastestArm is > 0 and <= 20, "fastest arm", FastestArm, "more than 0, at most 20 m/s");
        return problems.ToImmutable();

        void Check(bool ok, string name, object? value, string range)
        {
            if (!ok) problems.Add(new Problem("player", $"{name} is {value}.", $"It must be {range}.", Severity.Error));
        }
    }
}

/// <summary>The schools of legato tonguing.</summary>
public enum TonguePolicy
{
    /// <summary>Soft tongue only where the slide would be heard.</summary>
    WhereItWouldSmear,

    /// <summary>Soft tongue on every joined note, for uniformity.</summary>
    EveryNote,

    /// <summary>Only natural and valve slurs are joined; whatever would smear is tongued. An exercise.</summary>
    NaturalSlursOnly,
}

/// <summary>Which neighbouring notes count as joined in one breath.</summary>
public enum LegatoScope
{
    /// <summary>Under written slurs; everything, if the line has none.</summary>
    AsWrittenOrAll,

    /// <summary>Only under written slurs.</summary>
    AsWritten,

    /// <summary>Every pair without a rest, a breath mark or a detached note between.</summary>
    All,
}
