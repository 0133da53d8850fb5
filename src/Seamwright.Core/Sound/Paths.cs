using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

/// <summary>A whole performance as functions of time, what arm, lips, tongue and air are asked for: its notes and the passages between them, its
/// pitch and its level.</summary>
/// <remarks>Times are seconds from the first sample. Ask in roughly ascending order: a cursor makes that cheap.</remarks>
internal sealed class Paths
{
    // A stopped air column rings on a little: 50 dB.
    private const double StopDepth = 50;

    private const double StopFlank = 0.012, Attack = 0.025, Release = 0.05;

    // Seconds of a note before and after that belong to its change.
    private const double Before = 0.03, After = 0.12;

    // The end of time, seconds.
    private const double Far = 1e6;

    private readonly Plan plan;
    private readonly Performance performance;
    private readonly double[] onsets, offsets, boundaries;
    private readonly LevelShape[] shapes;
    private readonly Passage[] passages;
    private int cursor;

    public Paths(Plan plan, Performance performance, Cents vibrato, Hertz vibratoHz)
    {
        (this.plan, this.performance) = (plan, performance);
        Sounding = [.. plan.Notes.Where(n => n.Setting is not null).Select(n => n.Note.Index)];
        passages = PassagesOf();
        boundaries = [.. passages.Select(BoundaryOf)];
        shapes = [.. passages.Select((p, i) => ShapeOf(p, boundaries[i]))];
        (onsets, offsets) = Edges();
        if (!Sounding.IsEmpty) (Opening, Closing) = (Silence(-Far, onsets[0]), Silence(offsets[^1], Far));
        Duration = (Sounding.IsEmpty ? performance.LeadIn.Value : offsets[^1]) + performance.Tail.Value;
        (Level, Pitch) = (new LevelPath(this, performance), new BendPath(this, vibrato, vibratoHz));
    }

    /// <summary>What the level is to do.</summary>
    public LevelPath Level { get; }

    /// <summary>What the pitch is to do.</summary>
    public BendPath Pitch { get; }

    /// <summary>Indices of the notes that have a setting and so are played.</summary>
    public ImmutableArray<int> Sounding { get; }

    /// <summary>Between each two neighbouring sounding notes.</summary>
    public ReadOnlySpan<Passage> Passages => passages;

    public double Duration { get; }

    /// <summary>From the only note to itself, long after it; null unless just one note sounds.</summary>
    public Passage? Held => Sounding is [var only] ? PassageOf(only, only, new ChangeExecution { Centre = new(Far) }, 0) : null;

    /// <summary>Silence before the first note.</summary>
    public LevelShape Opening { get; }

    /// <summary>Silence after the last note.</summary>
    public LevelShape Closing { get; }

    /// <summary>Beginning and end of the i-th sounding note.</summary>
    public (double Onset, double Offset) NoteEdges(int i) => (onsets[i], offsets[i]);

    /// <summary>What the level does in the i-th passage.</summary>
    public LevelShape Shape(int i) => shapes[i];

    /// <summary>Where the i-th passage passes from note to note.</summary>
    public double Boundary(int i) => boundaries[i];

    /// <summary>Whether a silence lies in the i-th passage, so that nothing is heard of the slide.</summary>
    public bool IsParted(int i) => RestOf(passages[i]) > 0;

    /// <summary>The i-th passage is to be played otherwise; what follows it keeps its time.</summary>
    public void Replace(int i, ChangeExecution execution)
    {
        passages[i] = PassageOf(passages[i].FromNote, passages[i].ToNote, execution, i > 0 ? passages[i - 1].End : 0);
        boundaries[i] = BoundaryOf(passages[i]);
        shapes[i] = ShapeOf(passages[i], boundaries[i]);
    }

    /// <summary>Index of the passage that lies nearest to a time; 0 where there is none.</summary>
    public int NearestTo(double t)
    {
        if (passages.Length > 0) Seek(t);
        return cursor;
    }

    /// <summary>Seconds within which the i-th passage shows: what it does to pitch and level, a little of the notes at both ends, nothing
    /// of its neighbours.</summary>
    public (double From, double To) WindowOf(int i)
    {
        var (p, shape) = (passages[i], shapes[i]);
        var earliest = i > 0 ? (passages[i - 1].End + p.Start) / 2 : onsets[0] + Before;
        var latest = i + 1 < passages.Length ? (p.End + passages[i + 1].Start) / 2 : offsets[i + 1] - Before;
        var lips = p.Execution.Lips.Value / 2;
        var from = Math.Max(earliest, Math.Min(Math.Min(p.Start, p.BreakTime - lips), shape.FallStart) - Before);
        var to = Math.Min(latest, Math.Max(Math.Max(p.End, p.BreakEnd + lips), shape.RiseEnd) + After);
        return (from, Math.Max(to, from + 0.01));
    }

    /// <summary>Pitch of the only note that sounds, base-2 logarithm of Hz.</summary>
    public double Alone => Math.Log2(plan.Instrument.Sounding(plan.Notes[Sounding[0]].Setting!).Value) + (performance.Cents[Sounding[0]].Value / 1200);

    /// <summary>When a note of the plan begins, seconds.</summary>
    public double TimeOf(int note) => performance.LeadIn.Value + (plan.Notes[note].Note.StartTime.Value / performance.TempoRatio);

    // The passage that lies nearest: the last whose first half has begun, or the first.
    private void Seek(double t)
    {
        while (cursor + 1 < passages.Length && Nearer(cursor + 1, t)) cursor++;
        while (cursor > 0 && !Nearer(cursor, t)) cursor--;
    }

    private bool Nearer(int i, double t) => t >= (passages[i - 1].End + passages[i].Start) / 2;

    private Passage[] PassagesOf()
    {
        var found = new List<Passage>();
        var earliest = 0.0;
        for (var i = 1; i < Sounding.Length; i++)
        {
            int a = Sounding[i - 1], b = Sounding[i];

            // Over a note that is not played the arm has all the time there is.
            var execution = b == a + 1 ? performance.Changes[a] : new ChangeExecution { Rest = new(TimeOf(b) - EndOf(a)) };
            found.Add(PassageOf(a, b, execution, earliest));
            earliest = found[^1].End;
        }

        return [.. found];
    }

    private Passage PassageOf(int a, int b, ChangeExecution execution, double earliest)
    {
        var rest = execution.Rest.Value;
        var centre = rest > 0 ? TimeOf(b) - (rest / 2) : TimeOf(b) + execution.Centre.Value;
        return new Passage(plan.Instrument, End(a), End(b), execution, centre, earliest);

        PassageEnd End(int note) => new(note, plan.Notes[note].Setting!, performance.Cents[note].Value);
    }

    private double EndOf(int note) => performance.LeadIn.Value + (plan.Notes[note].Note.EndTime.Value / performance.TempoRatio);

    private static double RestOf(Passage p) => p.Execution.Rest.Value;

    private double BoundaryOf(Passage p) => RestOf(p) > 0 ? TimeOf(p.ToNote) : PassageGlide.Of(p)?.Centre ?? p.Middle;

    private LevelShape ShapeOf(Passage p, double boundary)
    {
        if (RestOf(p) > 0)
        {
            var end = TimeOf(p.ToNote);
            return Silence(end - RestOf(p), end);
        }

        var e = p.Execution;
        var centre = boundary + e.DipOffset.Value - (p.OnOnePartial ? 0 : e.TongueFirst.Value);
        return e.Gap.Value > 0
            ? LevelShape.Silence(centre - (e.Gap.Value / 2), centre + (e.Gap.Value / 2), StopDepth, StopFlank, StopFlank)
            : LevelShape.Dip(centre, e.DipWidth.Value, e.Dip.Value);
    }

    private (double[] Onsets, double[] Offsets) Edges()
    {
        var begin = new double[Sounding.Length];
        var end = new double[Sounding.Length];
        if (Sounding.IsEmpty) return (begin, end);
        begin[0] = TimeOf(Sounding[0]);
        end[^1] = Math.Max(EndOf(Sounding[^1]), begin[0] + 0.05);
        for (var i = 0; i < passages.Length; i++)
        {
            var e = passages[i].Execution;
            var middle = (shapes[i].HoldStart + shapes[i].HoldEnd) / 2;
            (end[i], begin[i + 1]) = RestOf(passages[i]) > 0 ? (boundaries[i] - RestOf(passages[i]), boundaries[i])
                : e.Gap.Value > 0 ? (middle - (e.Gap.Value / 2), middle + (e.Gap.Value / 2))
                : PassageGlide.Of(passages[i])?.Centre is { } centre ? (centre, centre)
                : (middle, middle);
        }

        return (begin, end);
    }

    private static LevelShape Silence(double start, double end) => LevelShape.Silence(start, end, LevelPath.SilenceDepth, Release, Attack);
}
