using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Assembling;

/// <summary>A part as its file tells it, before voices are made whole.</summary>
internal sealed class RawPart(string id, string name)
{
    public string Id { get; } = id;

    public string Name { get; } = name;

    public List<RawBar> Bars { get; } = [];

    /// <summary>Voices in the order they were met.</summary>
    public List<string> Voices { get; } = [];

    /// <summary>Concert to written pitch, as the first transposition says.</summary>
    public Interval Transposition { get; set; } = Interval.Unison;

    public int Staves { get; set; } = 1;
}

/// <summary>One bar of all voices of a part.</summary>
internal sealed class RawBar
{
    public required int Index { get; init; }

    public required string Number { get; set; }

    public required bool Implicit { get; init; }

    /// <summary>Where the bar stands in a text file; null for files that are not text.</summary>
    public TextPlaces? InText { get; init; }

    public Meter Meter { get; set; }

    /// <summary>No meter is in force: the bar is as long as what it holds.</summary>
    public bool SenzaMisura { get; set; }

    /// <summary>The file has not given a time signature so far.</summary>
    public bool MeterUnknown { get; set; }

    /// <summary>At concert pitch.</summary>
    public KeySignature Key { get; set; }

    /// <summary>As the sheet shows it: what its accidentals count from.</summary>
    public KeySignature WrittenKey { get; set; }

    /// <summary>Where the furthest voice or gap ends.</summary>
    public Beats Extent { get; set; } = Beats.Zero;

    public Beats Length { get; set; } = Beats.Zero;

    public bool IsPickup { get; set; }

    public List<(int Staff, ClefMark Mark)> Clefs { get; } = [];

    public List<TempoText> Tempos { get; } = [];

    public List<(int? Staff, Direction Direction)> Directions { get; } = [];

    /// <summary>Heads a section of an exercise; empty for none.</summary>
    public string Section { get; set; } = "";

    public List<ChordMark> Chords { get; } = [];

    public Dictionary<string, List<RawNote>> Notes { get; } = [];

    public BarRoad Road { get; set; } = BarRoad.Straight;

    /// <summary>Numbers of an ending bracket that begins here.</summary>
    public IReadOnlyList<int> EndingNumbers { get; set; } = [];
}

internal enum MarkEdge
{
    Start, Stop,
}

/// <summary>One end of a slur or a glissando line.</summary>
internal readonly record struct SpanMark(bool IsGlissando, MarkEdge Edge, int Number);

/// <summary>A note or rest as written, chords already reduced.</summary>
internal sealed class RawNote
{
    public required Beats Offset { get; init; }

    public required Beats Duration { get; init; }

    public required int Staff { get; init; }

    /// <summary>Concert pitch; null for a rest.</summary>
    public Pitch? Pitch { get; set; }

    /// <summary>What stands on the sheet; null for a rest.</summary>
    public Pitch? Written { get; set; }

    /// <summary>The written shape; null where it must be found from the duration.</summary>
    public NoteValue? Value { get; init; }

    public bool MeasureRest { get; init; }

    public string? FileId { get; init; }

    public Grace Grace { get; init; }

    public bool Tied { get; set; }

    public bool Fermata { get; set; }

    public bool BreathAfter { get; set; }

    public Articulations Articulations { get; set; }

    public string Lyric { get; set; } = "";

    /// <summary>An accidental is printed.</summary>
    public bool AccidentalShown { get; set; }

    public ChangeIntent? Asked { get; set; }

    public string Setting { get; set; } = "";

    public int TupletStarts { get; set; }

    public int TupletStops { get; set; }

    public List<SpanMark> Spans { get; } = [];

    public Beats End => Offset + Duration;
}
