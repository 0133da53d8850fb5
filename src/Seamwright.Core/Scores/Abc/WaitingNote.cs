using Seamwright.Core.Scores.Assembling;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Abc;

/// <summary>A tuplet that is being filled.</summary>
/// <param name="Actual">Notes in it.</param>
/// <param name="Normal">Notes in whose time they are played.</param>
/// <param name="Count">How many written notes it covers.</param>
/// <param name="Left">How many of them are still to come.</param>
internal readonly record struct TupletRun(int Actual, int Normal, int Count, int Left);

/// <summary>A note or rest that has been read and not yet placed.</summary>
internal sealed class WaitingNote
{
    public required Pitch? Written { get; init; }

    /// <summary>Of the plain shape, without tuplet.</summary>
    public required Beats Length { get; set; }

    public required bool AccidentalShown { get; init; }

    public required NoteMarks Marks { get; init; }

    public required int Line { get; init; }

    public required int Column { get; init; }

    public TupletRun Tuplet { get; set; } = new(1, 1, 0, 0);

    public bool Tied { get; set; }

    public List<SpanMark> Spans { get; } = [];

    public List<RawNote> Graces { get; } = [];

    private bool InTuplet => Tuplet.Count > 0;

    /// <summary>The note as the bars take it.</summary>
    /// <param name="offset">Where it begins.</param>
    /// <param name="duration">What it lasts.</param>
    /// <param name="whole">What a whole bar lasts.</param>
    /// <param name="staff">From letters to sound and print.</param>
    public RawNote Raw(Beats offset, Beats duration, Beats whole, Staff staff)
    {
        var note = new RawNote
        {
            Offset = offset,
            Duration = duration,
            Staff = 1,
            Value = Written is null && !InTuplet && offset == Beats.Zero && duration == whole ? null : Shape(),
            Pitch = Written + staff.ToSound,
            Written = Written + staff.ToSound + staff.ToWritten,
            Tied = Tied,
            Fermata = Marks.Fermata,
            BreathAfter = Marks.BreathAfter,
            Articulations = Marks.Articulations,
            AccidentalShown = AccidentalShown,
            TupletStarts = InTuplet && Tuplet.Left == Tuplet.Count ? 1 : 0,
            TupletStops = InTuplet && Tuplet.Left == 1 ? 1 : 0,
        };
        note.Spans.AddRange(Spans);
        if (Marks.GlissandoStops) note.Spans.Add(new SpanMark(true, MarkEdge.Stop, 1));
        if (Marks.GlissandoStarts) note.Spans.Add(new SpanMark(true, MarkEdge.Start, 1));
        return note;
    }

    private NoteValue? Shape()
    {
        if (Shapes.Exact(Length) is not { } shape) return null;
        if (!InTuplet || Tuplet.Actual == Tuplet.Normal) return shape;
        return shape.InTuplet ? null : shape with { TupletActual = Tuplet.Actual, TupletNormal = Tuplet.Normal };
    }
}

/// <summary>A note that words can be sung to.</summary>
/// <param name="Note">In its bar.</param>
/// <param name="Bar">That bar.</param>
internal sealed record SungNote(RawNote Note, RawBar Bar);

/// <summary>Slurs that are open: the one that closes is the last opened, but never one that began on the same note (ABC 2.1, section 4.11).</summary>
internal sealed class Slurs
{
    // Far more than anybody nests.
    private const int MostOpen = 64;

    private readonly List<(int Number, int Note)> open = [];
    private int waiting;
    private int numbers;

    public void Begin() => waiting = Math.Min(waiting + 1, MostOpen);

    /// <summary>Begins the waiting slurs on a note.</summary>
    public void Attach(List<SpanMark> spans, int note)
    {
        for (; waiting > 0; waiting--)
        {
            spans.Add(new SpanMark(false, MarkEdge.Start, ++numbers));
            if (open.Count < MostOpen) open.Add((numbers, note));
        }
    }

    public bool End(List<SpanMark>? spans, int note)
    {
        if (spans is null || open.Count == 0) return false;
        var found = open.FindLastIndex(o => o.Note != note);
        if (found < 0) found = open.Count - 1;
        spans.Add(new SpanMark(false, MarkEdge.Stop, open[found].Number));
        open.RemoveAt(found);
        return true;
    }
}

/// <summary>Which accidentals hold for a letter inside a bar.</summary>
internal sealed class Accidentals(TuneFields tune)
{
    private readonly Dictionary<(Step Step, int Octave), int> said = [];

    /// <summary>The note that is tied to the next one; its pitch goes on over a bar line.</summary>
    public Pitch? Tied { get; set; }

    public void BeginBar() => said.Clear();

    public int AlterOf(Step step, int octave, int? accidental, AbcKey key)
    {
        var place = (step, tune.Reach == AccidentalReach.Octave ? octave : 0);
        if (accidental is { } alter)
        {
            if (tune.Reach != AccidentalReach.Note) said[place] = alter;
            return alter;
        }

        if (said.TryGetValue(place, out var inForce)) return inForce;
        return Tied is { } tied && (tied.Step, tied.Octave) == (step, octave) ? tied.Alter : key.AlterOf(step);
    }
}

/// <summary>How far the notes of a voice have been given words or symbols.</summary>
internal sealed class Alignment
{
    /// <summary>The first note that the next line starts at.</summary>
    public int Next { get; set; }

    /// <summary>Where the line of music before it began.</summary>
    public int LineStart { get; set; }

    /// <summary>Where the line before this one started, for a further verse.</summary>
    public int Before { get; set; }

    /// <summary>Whether no music stands between this line and the one before.</summary>
    public bool Adjacent { get; set; }
}
