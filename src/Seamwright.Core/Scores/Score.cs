using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores;

/// <summary>A piece of written music: its header and its monophonic parts, all at concert pitch.</summary>
/// <remarks>A printed part with several voices becomes several <see cref="Part"/>s that share an <see cref="Part.Id"/>.
/// Records here compare their arrays by reference: two scores are equal only if they share them.</remarks>
public sealed record Score
{
    public string Title { get; init; } = "";

    public string Subtitle { get; init; } = "";

    public string Composer { get; init; } = "";

    public string Rights { get; init; } = "";

    /// <summary>At least one.</summary>
    public required ImmutableArray<Part> Parts { get; init; }
}

/// <summary>One line of music as it stands on the sheet: repeats not unfolded, pitches at concert pitch.</summary>
public sealed record Part
{
    /// <summary>The part's id in its file, for instance <c>P1</c>.</summary>
    public required string Id { get; init; }

    public required string Name { get; init; }

    /// <summary>The voice within the part, as its file names it.</summary>
    public string Voice { get; init; } = "1";

    /// <summary>What is added to concert pitch to get the written pitch of the file's own part; unison for a part at pitch.</summary>
    public Interval Transposition { get; init; } = Interval.Unison;

    /// <summary>In sheet order, never empty.</summary>
    public required ImmutableArray<Bar> Bars { get; init; }

    /// <summary>Slurs over note ids of this part, each over at least two notes.</summary>
    public ImmutableArray<Span> Slurs { get; init; } = [];

    /// <summary>Glissando lines the composer wrote, from note to note.</summary>
    public ImmutableArray<Span> Glissandi { get; init; } = [];

    /// <summary>The same in one clef throughout.</summary>
    public Part InClef(Clef clef) => this with
    {
        Bars = [.. Bars.Select(b => b with { Clefs = b.Index == Bars[0].Index ? [new ClefMark(Beats.Zero, clef)] : [] })],
    };

    /// <summary>All notes in sheet order, grace notes included.</summary>
    public IEnumerable<Note> Notes => Bars.SelectMany(b => b.Events).OfType<Note>();

    /// <summary>The same with slide settings prescribed.</summary>
    /// <param name="settings">By a note's id; other notes stay as they are.</param>
    public Part WithSettings(IReadOnlyDictionary<string, string> settings) =>
        this with { Bars = [.. Bars.Select(b => b with { Events = [.. b.Events.Select(e => e is Note n && settings.TryGetValue(n.Id, out var s) ? n with { Setting = s } : e)] })] };
}

/// <summary>Something drawn from one note to another.</summary>
/// <param name="FromId">Id of the first note.</param>
/// <param name="ToId">Id of the last note.</param>
public sealed record Span(string FromId, string ToId);

/// <summary>A bar of one part.</summary>
public sealed record Bar
{
    /// <summary>Place in the part, from 0.</summary>
    public required int Index { get; init; }

    /// <summary>The printed number, as its file has it; empty for an unnumbered pickup.</summary>
    public required string Number { get; init; }

    /// <summary>Whether the bar is shorter than its meter on purpose (an upbeat, or the rest of one before a repeat).</summary>
    public bool IsPickup { get; init; }

    /// <summary>From the start of the part in sheet order.</summary>
    public required Beats Start { get; init; }

    /// <summary>What the bar really holds; the meter's length unless <see cref="IsPickup"/> or the file says otherwise.</summary>
    public required Beats Length { get; init; }

    /// <summary>In force here; the sheet prints it where it differs from the bar before.</summary>
    public required Meter Meter { get; init; }

    /// <summary>Concert key in force here; the sheet prints it where it differs from the bar before.</summary>
    public required KeySignature Key { get; init; }

    /// <summary>Clefs that begin in this bar as the file has them, offset from its start; the first bar always has one at 0.</summary>
    public ImmutableArray<ClefMark> Clefs { get; init; } = [];

    public ImmutableArray<TempoText> Tempos { get; init; } = [];

    public ImmutableArray<Direction> Directions { get; init; } = [];

    /// <summary>Chord symbols that begin in this bar, in order of place, no two at one place; a symbol holds until the next one.</summary>
    public ImmutableArray<ChordMark> Chords { get; init; } = [];

    /// <summary>Heads a new section of an exercise, which begins a new system; empty for none.</summary>
    public string Section { get; init; } = "";

    /// <summary>Notes and rests in time order; they fill the bar without gaps or overlaps (grace notes take no time).</summary>
    public required ImmutableArray<ScoreEvent> Events { get; init; }

    /// <summary>Repeats, endings and jumps at this bar's two edges.</summary>
    public BarRoad Road { get; init; } = BarRoad.Straight;
}

/// <summary>What the edges of a bar say about the way through the piece.</summary>
public sealed record BarRoad
{
    public static readonly BarRoad Straight = new();

    /// <summary>A forward repeat sign at the left edge.</summary>
    public bool RepeatStarts { get; init; }

    /// <summary>How often the passage that ends at the right edge is played in all: 0 for no repeat sign, else 2 or more.</summary>
    public int RepeatTimes { get; init; }

    /// <summary>The passes for which this bar is played, where it lies under an ending bracket; else empty.</summary>
    public ImmutableArray<int> Endings { get; init; } = [];

    /// <summary>Whether an ending bracket begins at the left edge.</summary>
    public bool EndingStarts { get; init; }

    /// <summary>Whether an ending bracket closes at the right edge.</summary>
    public bool EndingStops { get; init; }

    public bool Segno { get; init; }

    public bool Coda { get; init; }

    /// <summary>A jump from the right edge.</summary>
    public Jump Jump { get; init; }

    /// <summary>"To coda": on the way after a jump, go from the right edge to the coda.</summary>
    public bool ToCoda { get; init; }

    /// <summary>"Fine": on the way after a jump, stop at the right edge.</summary>
    public bool Fine { get; init; }

    public BarlineStyle RightBarline { get; init; }
}

public enum Jump
{
    None, DaCapo, DalSegno,
}

public enum BarlineStyle
{
    Regular, Double, Final,
}

/// <summary>A time signature; <paramref name="Beats"/> may be a sum such as <c>3+2</c> already added up.</summary>
/// <param name="Beats">Upper number, 1 to 64.</param>
/// <param name="BeatUnit">Lower number, a power of two from 1 to 64.</param>
/// <param name="Symbol">How it prints.</param>
public readonly record struct Meter(int Beats, int BeatUnit, MeterSymbol Symbol = MeterSymbol.Numbers)
{
    public static readonly Meter CommonTime = new(4, 4);

    /// <summary>Where the sheet says how beats are grouped (<c>3+2</c>): bit i is set where a group begins at beat i, counted from
    /// 0 in the lower number. 0 where it does not say.</summary>
    public ulong GroupStarts { get; init; }

    /// <summary>A whole bar.</summary>
    public Beats BarLength => new(Beats * 4, BeatUnit);

    /// <summary>One beat as the lower number counts it.</summary>
    public Beats Beat => new(4, BeatUnit);

    /// <summary>The same meter with its beats grouped so.</summary>
    /// <param name="groups">Beats in each group; they add up to <see cref="Beats"/>. A single group says nothing.</param>
    /// <exception cref="ArgumentException">They do not add up.</exception>
    public Meter Grouped(IReadOnlyList<int> groups)
    {
        if (groups.Sum() != Beats || groups.Any(g => g < 1)) throw new ArgumentException($"{string.Join('+', groups)} does not make {Beats}.", nameof(groups));
        var starts = 0UL;
        for (int i = 0, at = 0; i < groups.Count && groups.Count > 1; at += groups[i++]) starts |= 1UL << at;
        return this with { GroupStarts = starts };
    }

    /// <summary>Beats in each group as the sheet says; empty where it does not.</summary>
    public ImmutableArray<int> Groups
    {
        get
        {
            var (starts, all) = (GroupStarts, Beats);
            var places = Enumerable.Range(0, all).Where(i => (starts >> i & 1) == 1).ToList();
            return [.. places.Select((p, i) => (i + 1 < places.Count ? places[i + 1] : all) - p)];
        }
    }
}

public enum MeterSymbol
{
    Numbers, Common, Cut,
}

/// <summary>A key signature.</summary>
/// <param name="Fifths">Sharps (positive) or flats (negative), −7 to 7.</param>
/// <param name="Mode">Major where the file does not say.</param>
public readonly record struct KeySignature(int Fifths, KeyMode Mode = KeyMode.Major)
{
    /// <summary>Alteration this signature gives a letter: −1, 0 or 1.</summary>
    public int AlterOf(Step step)
    {
        // Order of sharps F C G D A E B; flats run the other way.
        var order = step switch
        {
            Step.F => 0,
            Step.C => 1,
            Step.G => 2,
            Step.D => 3,
            Step.A => 4,
            Step.E => 5,
            _ => 6,
        };
        if (Fifths > order) return 1;
        return -Fifths > 6 - order ? -1 : 0;
    }

    /// <summary>The first note of the scale: E-flat for three flats in major, C in minor.</summary>
    public PitchName Tonic => PitchName.OnFifths(Fifths + (Mode == KeyMode.Minor ? 3 : 0));

    /// <summary>For instance <c>B♭ major</c>.</summary>
    public string ToDisplay() => $"{Tonic.ToDisplay()} {(Mode == KeyMode.Minor ? "minor" : "major")}";

    /// <summary>The signature after a transposition, brought back into −7…7 by enharmonic change.</summary>
    public KeySignature Transposed(Interval by)
    {
        // A letter and a semitone count fix the move on the circle of fifths: 7 fifths a semitone less 12 a letter.
        var fifths = Fifths + (7 * by.Semitones) - (12 * by.Steps);
        while (fifths > 7) fifths -= 12;
        while (fifths < -7) fifths += 12;
        return this with { Fifths = fifths };
    }
}

public enum KeyMode
{
    Major, Minor,
}

/// <summary>A clef from a place in a bar on.</summary>
public readonly record struct ClefMark(Beats Offset, Clef Clef);

/// <summary>A tempo indication: words, a metronome mark, or both.</summary>
/// <param name="Offset">From the start of the bar.</param>
/// <param name="QuartersPerMinute">Null where only words are given.</param>
/// <param name="Words">For instance "Andante".</param>
/// <param name="Unit">The printed beat of the metronome mark.</param>
public sealed record TempoText(Beats Offset, double? QuartersPerMinute, string Words, NoteValue? Unit);

/// <summary>Dynamics, words and hairpins.</summary>
/// <param name="Offset">From the start of the bar.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Text">The dynamic (<c>mf</c>) or the words; empty for hairpins.</param>
public sealed record Direction(Beats Offset, DirectionKind Kind, string Text);

public enum DirectionKind
{
    Dynamic, Words, Crescendo, Diminuendo, HairpinEnd, RehearsalMark,
}
