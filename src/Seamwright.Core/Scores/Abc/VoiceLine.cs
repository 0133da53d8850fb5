using Seamwright.Core.Scores.Assembling;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Abc;

/// <summary>One voice: what is in force in it, and its notes on their way into the bars.</summary>
/// <remarks>A note waits until it is known whether a sign for broken rhythm, a tie or the end of a slur follows it.</remarks>
internal sealed class VoiceLine(string id, VoiceBars bars, TuneFields tune, ProblemLog log)
{
    private readonly Accidentals accidentals = new(tune);
    private readonly Slurs slurs = new();
    private WaitingNote? waiting;
    private (int Times, int By) next = (1, 1);
    private TupletRun tuplet;

    public string Id => id;

    public VoiceBars Bars => bars;

    public Staff Staff { get; private set; } = Staff.Plain;

    public string Name => bars.Part.Name;

    public Beats Unit { get; set; } = new(1, 2);

    /// <summary>Marks of the next note.</summary>
    public NoteMarks Marks { get; private set; } = new();

    /// <summary>Notes that words are sung to, in order.</summary>
    public List<SungNote> Sung { get; } = [];

    /// <summary>How many of them words and symbols have been given to.</summary>
    public Alignment Words { get; } = new();

    public Alignment SymbolLines { get; } = new();

    /// <summary>Grace notes that stand before the next note.</summary>
    public List<RawNote> Graces { get; } = [];

    /// <summary>Bars of an overlaid voice that are still to be left out; more than 0 while one is passed over.</summary>
    public int Overlaid { get; set; }

    /// <summary>Whether the first of those bars replaces nothing, since the overlay began after a bar line.</summary>
    public bool OverlaidFromBarLine { get; set; }

    public bool HasWaiting => waiting is not null;

    public bool InTuplet => tuplet.Left > 0;

    public void SetStaff(Staff staff)
    {
        if (staff.Shown is { } clef && (staff.Shown != Staff.Shown || bars.Part.Bars is [{ Clefs.Count: 0 }])) bars.Bar.Clefs.Add((1, new ClefMark(bars.Offset, clef)));
        Staff = staff;
        (bars.ToSound, bars.ToWritten) = (staff.ToSound, staff.ToWritten);
        if (Sung.Count == 0) bars.Part.Transposition = staff.ToWritten;
        bars.Key = bars.Key;
    }

    /// <summary>A tuplet of some notes begins.</summary>
    public void BeginTuplet(int actual, int normal, int count) => tuplet = new TupletRun(actual, normal, count, count);

    public void BeginSlur() => slurs.Begin();

    /// <returns>False where no slur is open.</returns>
    public bool EndSlur() => waiting is { Written: not null }
        ? slurs.End(waiting.Spans, Sung.Count)
        : slurs.End(Sung.Count > 0 ? Sung[^1].Note.Spans : null, Sung.Count - 1);

    /// <returns>False where no note waits that could be tied.</returns>
    public bool Tie()
    {
        if (waiting is not { Written: not null }) return false;
        return waiting.Tied = true;
    }

    /// <summary>The waiting note and the next share their time unevenly (ABC 2.1, section 4.4).</summary>
    /// <param name="signs">1 to 3.</param>
    /// <param name="longFirst">Whether the first of them is the longer one.</param>
    /// <returns>False where no note waits.</returns>
    public bool Break(int signs, bool longFirst)
    {
        if (waiting is null) return false;
        var (more, less) = ((Times: (1 << (signs + 1)) - 1, By: 1 << signs), (Times: 1, By: 1 << signs));
        waiting.Length = waiting.Length.Times(longFirst ? more.Times : less.Times, longFirst ? more.By : less.By);
        next = longFirst ? less : more;
        return true;
    }

    /// <summary>The pitch of a letter on the sheet, with the accidentals in force.</summary>
    /// <returns>Null where no such pitch exists.</returns>
    public Pitch? PitchOf(Step step, int octave, int? accidental) =>
        Valid(new Pitch(step, accidentals.AlterOf(step, octave + Staff.Octave, accidental, bars.Key), octave + Staff.Octave));

    /// <summary>A note or rest; the one before it takes its place.</summary>
    /// <param name="letter">As the letters say; null for a rest.</param>
    /// <param name="length">Of the plain shape, without tuplet.</param>
    /// <param name="accidentalShown">Whether an accidental is written.</param>
    /// <param name="scan">Where it stands.</param>
    public void Add(Pitch? letter, Beats length, bool accidentalShown, Scan scan)
    {
        Place();
        waiting = new WaitingNote { Written = letter, Length = length.Times(next.Times, next.By), AccidentalShown = accidentalShown, Marks = Marks, Line = scan.Line, Column = scan.Column };
        (next, Marks) = ((1, 1), new NoteMarks());
        waiting.Graces.AddRange(Graces);
        Graces.Clear();
        if (letter is not null)
        {
            foreach (var grace in waiting.Graces.Where(g => g.Pitch is not null).Take(1)) slurs.Attach(grace.Spans, -1);
            slurs.Attach(waiting.Spans, Sung.Count);
        }

        if (tuplet.Left == 0) return;
        waiting.Tuplet = tuplet;
        tuplet = tuplet with { Left = tuplet.Left - 1 };
    }

    /// <summary>Puts the waiting note into its bar.</summary>
    public void Place()
    {
        if (waiting is not { } note) return;
        waiting = null;
        var duration = note.Length.Times(note.Tuplet.Normal, note.Tuplet.Actual);
        if (!bars.Fits(duration))
        {
            log.Warn(new Place(Name, Line: note.Line, Column: note.Column), "A bar is longer than any bar can be; a bar line is put here.", "Write bar lines.");
            bars.End(default, new Scan("", note.Line, note.Column));
        }

        bars.Bar.InText!.Mark(bars.Offset, note.Line, note.Column);
        foreach (var grace in note.Graces) bars.Add(At(grace, bars.Offset));
        var raw = note.Raw(bars.Offset, duration, bars.Whole, Staff);
        bars.Add(raw);
        if (note.Written is { } written)
        {
            Sung.Add(new SungNote(raw, bars.Bar));
            accidentals.Tied = note.Tied ? written : null;
        }
        else
        {
            accidentals.Tied = null;
        }
    }

    /// <summary>Rests that fill whole bars.</summary>
    public void Rest(int count, Scan scan)
    {
        Place();
        for (var i = 0; i < count; i++)
        {
            if (i > 0) EndBar(default, scan);
            bars.Bar.InText!.Mark(bars.Offset, scan.Line, scan.Column);
            bars.Add(new RawNote { Offset = bars.Offset, Duration = bars.Whole, Staff = 1, MeasureRest = true });
        }
    }

    /// <summary>A bar line.</summary>
    public void EndBar(BarSymbol symbol, Scan scan)
    {
        Place();
        if (!Marks.IsEmpty) log.Note(scan.Here(Name), "A mark on a bar line is left out.");
        Marks = new NoteMarks();
        bars.End(symbol, scan);
        accidentals.BeginBar();
    }

    public void Finish()
    {
        Place();
        if (Graces.Count > 0) log.Note(new Place(Name), "Grace notes stand before no note and are left out.");
        bars.Finish();
    }

    /// <summary>A grace note, not yet in a bar.</summary>
    public RawNote Grace(Pitch letter, NoteValue value, Grace kind) => new()
    {
        Offset = Beats.Zero,
        Duration = Beats.Zero,
        Staff = 1,
        Value = value,
        Grace = kind,
        Pitch = letter + Staff.ToSound,
        Written = letter + Staff.ToSound + Staff.ToWritten,
    };

    private static RawNote At(RawNote grace, Beats offset)
    {
        var placed = new RawNote { Offset = offset, Duration = Beats.Zero, Staff = 1, Value = grace.Value, Grace = grace.Grace, Pitch = grace.Pitch, Written = grace.Written };
        placed.Spans.AddRange(grace.Spans);
        return placed;
    }

    private Pitch? Valid(Pitch letter) =>
        IsPitch(letter) && IsPitch(letter + Staff.ToSound) && IsPitch(letter + Staff.ToSound + Staff.ToWritten) ? letter : null;

    private static bool IsPitch(Pitch pitch) => pitch is { Midi: >= 0 and <= 127, Octave: >= -1 and <= 9 };
}
