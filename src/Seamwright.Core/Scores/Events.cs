using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores;

/// <summary>A note or a rest at its place in a bar.</summary>
public abstract record ScoreEvent
{
    /// <summary>Unique in its part, made of letters, digits, <c>-</c> and <c>_</c>, beginning with a letter.</summary>
    public required string Id { get; init; }

    /// <summary>From the start of the bar.</summary>
    public required Beats Offset { get; init; }

    /// <summary>How long it lasts; zero for a grace note.</summary>
    public required Beats Duration { get; init; }

    /// <summary>How it is drawn.</summary>
    public required NoteValue Value { get; init; }

    /// <summary>Whether a tuplet bracket begins, ends, or neither, at this event.</summary>
    public TupletEdge TupletEdge { get; init; }

    public bool Fermata { get; init; }
}

/// <summary>A note at concert pitch.</summary>
public sealed record Note : ScoreEvent
{
    public required Pitch Pitch { get; init; }

    /// <summary>Whether it is tied to the next note, which then has the same pitch.</summary>
    public bool TieToNext { get; init; }

    public Articulations Articulations { get; init; }

    /// <summary>A breath mark (or caesura) stands after this note.</summary>
    public bool BreathAfter { get; init; }

    public Grace Grace { get; init; }

    /// <summary>An accidental printed although the signature or the bar already says it.</summary>
    public bool CourtesyAccidental { get; init; }

    public string Lyric { get; init; } = "";

    /// <summary>What an exercise asks of the way into this note (of a first note: of the note itself); null where nothing beyond the music.</summary>
    public ChangeIntent? Asked { get; init; }

    /// <summary>The slide setting an exercise prescribes, as a plan's locks are written (<c>open4p5</c>, <c>F1</c>); empty for none.</summary>
    public string Setting { get; init; } = "";
}

/// <summary>A silence.</summary>
public sealed record Rest : ScoreEvent
{
    /// <summary>A whole-bar rest, drawn centred.</summary>
    public bool FillsBar { get; init; }
}

public enum Grace
{
    None,

    /// <summary>Without a stroke.</summary>
    Plain,

    /// <summary>With a stroke through the stem.</summary>
    Slashed,
}

public enum TupletEdge
{
    None, Start, Stop,
}

/// <summary>Marks that tell how a note is begun and held.</summary>
[Flags]
public enum Articulations
{
    None = 0,
    Staccato = 1,
    Tenuto = 2,
    Accent = 4,
    StrongAccent = 8,
    Staccatissimo = 16,
    DetachedLegato = 32,
}

/// <summary>A note's written shape.</summary>
/// <param name="Base">Denominator as a power of two: −1 breve, 0 whole, 1 half, 2 quarter … 8 for a 256th.</param>
/// <param name="Dots">0 to 3.</param>
/// <param name="TupletActual">Notes in the tuplet, 1 outside one.</param>
/// <param name="TupletNormal">Notes of the same shape they replace, 1 outside one.</param>
public readonly record struct NoteValue(int Base, int Dots = 0, int TupletActual = 1, int TupletNormal = 1)
{
    public static readonly NoteValue Whole = new(0);
    public static readonly NoteValue Half = new(1);
    public static readonly NoteValue Quarter = new(2);
    public static readonly NoteValue Eighth = new(3);
    public static readonly NoteValue Sixteenth = new(4);

    public bool InTuplet => TupletActual != 1 || TupletNormal != 1;

    /// <summary>What the shape lasts: base · (2 − 2^−dots) · normal / actual.</summary>
    public Beats Duration
    {
        get
        {
            var dotted = new Beats((System.Numerics.BigInteger.One << (Dots + 1)) - 1, System.Numerics.BigInteger.One << Dots);
            var plain = Base >= 0 ? dotted.Times(4, 1 << Base) : dotted.Times(4 << -Base, 1);
            return plain.Times(TupletNormal, TupletActual);
        }
    }
}

/// <summary>One line as it is played: repeats unfolded, ties joined, grace notes given their time.</summary>
public sealed record Line
{
    public required string Title { get; init; }

    /// <summary>In played order, never overlapping.</summary>
    public required ImmutableArray<PlayedNote> Notes { get; init; }

    public required TempoMap Tempo { get; init; }

    /// <summary>Meter and number of each bar in played order: what clicks, cursors and cue sheets follow.</summary>
    public ImmutableArray<PlayedBar> Bars { get; init; } = [];

    /// <summary>Chord symbols in played order, each until the next; empty where the part has none.</summary>
    public ImmutableArray<PlayedChord> Chords { get; init; } = [];

    /// <summary>Hairpins in played order, never overlapping.</summary>
    public ImmutableArray<PlayedHairpin> Hairpins { get; init; } = [];

    /// <summary>Dynamic marks as they are met, in played order; what a jump restores is none.</summary>
    public ImmutableArray<PlayedDynamic> Dynamics { get; init; } = [];

    /// <summary>Whether it was read off a recording: then it has no bars, its times are the recording's, and nobody asked for it.</summary>
    public bool FromRecording { get; init; }
}

/// <summary>A dynamic mark in played order.</summary>
/// <param name="At">Played place: where a note begins, within a held one, or in a rest.</param>
/// <param name="Mark">As written (<c>mf</c>).</param>
public sealed record PlayedDynamic(Beats At, string Mark);

/// <summary>A hairpin in played order.</summary>
/// <param name="Start">Played place.</param>
/// <param name="End">Played place, later; a jump of the road ends it.</param>
/// <param name="Rises">Whether it says louder.</param>
public sealed record PlayedHairpin(Beats Start, Beats End, bool Rises);

/// <summary>A bar in played order.</summary>
/// <param name="Number">Printed number.</param>
/// <param name="Start">Played place.</param>
/// <param name="Length">What it lasts.</param>
/// <param name="Meter">In force.</param>
/// <param name="Pass">1 for the first time through this bar.</param>
public sealed record PlayedBar(string Number, Beats Start, Beats Length, Meter Meter, int Pass)
{
    /// <summary>The bar's place in its part, from 0; −1 where it is not known.</summary>
    public int Index { get; init; } = -1;

    /// <summary>Concert key in force.</summary>
    public KeySignature Key { get; init; }

    /// <summary>Where in a whole bar it begins: more than 0 only for an upbeat, which is the end of one.</summary>
    public Beats Shift { get; init; } = Beats.Zero;

    public Beats End => Start + Length;
}

/// <summary>One sounding note.</summary>
public sealed record PlayedNote
{
    /// <summary>Place in the line, from 0.</summary>
    public required int Index { get; init; }

    /// <summary>The sheet's notes that make it: one, or several tied ones.</summary>
    public required ImmutableArray<string> NoteIds { get; init; }

    /// <summary>Printed number of the bar it begins in.</summary>
    public required string Bar { get; init; }

    /// <summary>Place in that bar, 1 for the downbeat, counted in the lower number of the meter.</summary>
    public required Beats Beat { get; init; }

    /// <summary>1 the first time this note is played, 2 on its repeat, and so on.</summary>
    public int Pass { get; init; } = 1;

    public required Pitch Pitch { get; init; }

    /// <summary>Played place.</summary>
    public required Beats Start { get; init; }

    public required Beats Length { get; init; }

    public required Seconds StartTime { get; init; }

    public required Seconds Duration { get; init; }

    public Articulations Articulations { get; init; }

    /// <summary>A slur joins it to the next played note.</summary>
    public bool SlurredToNext { get; init; }

    /// <summary>A written glissando joins it to the next played note.</summary>
    public bool GlissandoToNext { get; init; }

    /// <summary>A breath mark stands after it.</summary>
    public bool BreathAfter { get; init; }

    /// <summary>The dynamic in force, as written (<c>mf</c>); empty before the first.</summary>
    public string Dynamic { get; init; } = "";

    public bool IsGrace { get; init; }

    /// <summary>What an exercise asks of the way into this note.</summary>
    public ChangeIntent? Asked { get; init; }

    /// <summary>The slide setting an exercise prescribes; empty for none.</summary>
    public string Setting { get; init; } = "";

    public Beats End => Start + Length;

    public Seconds EndTime => StartTime + Duration;
}
