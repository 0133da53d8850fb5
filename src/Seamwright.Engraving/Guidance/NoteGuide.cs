using System.Collections.Immutable;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Instruments;

namespace Seamwright.Engraving.Guidance;

/// <summary>What is printed around one note of the sheet.</summary>
internal sealed record NoteGuide
{
    public static readonly NoteGuide Empty = new();

    /// <summary>Above: the first pass's setting; null for none.</summary>
    public PositionPrint? Position { get; init; }

    /// <summary>Settings of later passes that differ, in order.</summary>
    public ImmutableArray<PositionPrint> LaterPositions { get; init; } = [];

    /// <summary>Below.</summary>
    public ImmutableArray<SheetMark> Marks { get; init; } = [];

    /// <summary>Below the marks; empty for none.</summary>
    public string Syllable { get; init; } = "";

    /// <summary>Whether the syllable stands again on every beat of the note after its first.</summary>
    public bool OnEveryBeat { get; init; }

    /// <summary>Below the marks: what was heard where the note was reached, first pass first.</summary>
    public ImmutableArray<HeardMark> Heard { get; init; } = [];

    /// <summary>A comma after the note, where the sheet has none.</summary>
    public bool BreathAfter { get; init; }

    /// <summary>All positions of the note, the first pass first.</summary>
    public IEnumerable<PositionPrint> Positions => Position is { } first ? LaterPositions.Prepend(first) : [];
}

/// <summary>A verdict under a note.</summary>
/// <param name="Verdict">Gives shape and colour.</param>
/// <param name="Word">Under the shape; may be empty.</param>
internal sealed record HeardMark(Verdict Verdict, string Word);

/// <summary>A slide setting as it is printed: valve letters light, the place itself strong, so that a G♭ valve's 2 and a G
/// valve's flat 2 cannot be taken for one another.</summary>
/// <param name="Valves"><c>F</c>, <c>G♭</c>, <c>D</c>; empty on the open horn.</param>
/// <param name="Place"><c>4</c>, <c>♭2</c>, or <see cref="OutOfReach"/>.</param>
internal sealed record PositionPrint(string Valves, string Place)
{
    /// <summary>For a note that cannot be played.</summary>
    public static readonly PositionPrint OutOfReach = new("", "–");

    public static PositionPrint Of(SlideSetting? setting) =>
        setting is null ? OutOfReach : new(setting.Side.Label, setting.Label[setting.Side.Label.Length..].TrimStart());

    public override string ToString() => Valves + Place;
}
