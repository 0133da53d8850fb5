using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

/// <summary>Pitch and level of a whole performance as functions of time: the exact thing the samples are made from.</summary>
/// <remarks>Times are seconds from the first sample. Ask in roughly ascending order: a cursor makes that cheap.</remarks>
internal sealed class Paths
{
    // Below this the noise of any room is louder.
    private const double SilenceDepth = 80;

    // A stopped air column rings on a little: 50 dB.
    private const double StopDepth = 50;

    // A note that ends has faded so far when its air is spent, dB.
    private const double Faded = 30;
    private const double StopFlank = 0.012, Attack = 0.025, Release = 0.05;

    // A burst rises and falls within 60 ms: its top lies well inside the 80 ms a listener gives it.
    private const double BumpLength = 0.045;

    // Seconds of a note before and after that belong to its change.
    private const double Before = 0.03, After = 0.12;

    // Two notes of different level blend over this time around the change.
    private const double LevelBlend = 0.03;

    private readonly Plan plan;
    private readonly Performance performance;
    private readonly double[] onsets, offsets, levels, boundaries;
    private readonly LevelShape[] shapes;
    private readonly Passage[] passages;
    private readonly LevelShape opening, closing;
    private readonly double vibratoOctaves, vibratoRate;
    private int cursor;

    public Paths(Plan plan, Performance performance, Cents vibrato, Hertz vibratoHz)
    {
        (this.plan, this.performance) = (plan, performance);
        (vibratoOctaves, vibratoRate) = (vibrato.Value / 1200, vibratoHz.Value);
        Sounding = [.. plan.Notes.Where(n => n.Setting is not null).Select(n => n.Note.Index)];
        passages = PassagesOf();
        levels = [.. Sounding.Select(n => performance.Levels.IsDefaultOrEmpty ? 0 : performance.Levels[n].Value)];
        boundaries = [.. passages.Select(BoundaryOf)];
        shapes = [.. passages.Select((p, i) => ShapeOf(p, boundaries[i]))];
        (onsets, offsets) = Edges();
        (opening, closing) = Ends();
        Duration = (Sounding.IsEmpty ? performance.LeadIn.Value : offsets[^1]) + performance.Tail.Value;
    }

    /// <summary>Indices of the notes that have a setting and so are played.</summary>
    public ImmutableArray<int> Sounding { get; }

    /// <summary>Between each two neighbouring sounding notes.</summary>
    public ReadOnlySpan<Passage> Passages => passages;

    public double Duration { get; }

    /// <summary>From the only note to itself, long after it; null unless just one note sounds.</summary>
    public Passage? Held => Sounding is [var only] ? PassageOf(only, only, new ChangeExecution { Centre = new(1e6) }, 0) : null;

    /// <summary>Beginning, end and level of the i-th sounding note.</summary>
    public (double Onset, double Offset, double LevelDb) NoteEdges(int i) => (onsets[i], offsets[i], levels[i]);

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

    /// <summary>The level of the air alone, dB against an ordinary note: neither tongue nor silence.</summary>
    public double AirAt(double t)
    {
        if (passages.Length == 0) return levels is [var only, ..] ? only : 0;
        Seek(t);
        return BaseLevel(t);
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

    /// <summary>Vibrato in octaves.</summary>
    public double VibratoAt(double t)
    {
        if (vibratoOctaves == 0) return 0;
        var (start, end) = StretchAt(t);
        return Vibrato(t, start, end);
    }

    /// <summary>How far a note is on its own, 0 to 1: 0 in a passage, 1 where it is held.</summary>
    public double HoldAt(double t)
    {
        var (start, end) = StretchAt(t);
        return Math.Clamp((t - start) / 0.1, 0, 1) * Math.Clamp((end - t) / 0.06, 0, 1);
    }

    // From passage to passage; empty within one.
    private (double Start, double End) StretchAt(double t)
    {
        if (Sounding.IsEmpty) return (t, t);
        if (passages.Length == 0) return (onsets[0], offsets[0]);
        Seek(t);
        var passage = passages[cursor];
        if (t < passage.Start) return (cursor > 0 ? passages[cursor - 1].End : onsets[0], passage.Start);
        return t <= passage.End ? (t, t) : (passage.End, cursor + 1 < passages.Length ? passages[cursor + 1].Start : offsets[^1]);
    }

    /// <summary>Base-2 logarithm of Hz, vibrato included.</summary>
    public double PitchAt(double t)
    {
        if (Sounding.IsEmpty) return Math.Log2(110);
        if (passages.Length == 0) return Alone() + Vibrato(t, onsets[0], offsets[0]);
        Seek(t);
        var passage = passages[cursor];
        if (t < passage.Start) return passage.FromPitch + Vibrato(t, onsets[cursor], passage.Start);
        if (t <= passage.End) return passage.At(t);
        var until = cursor + 1 < passages.Length ? passages[cursor + 1].Start : offsets[^1];
        return passage.ToPitch + Vibrato(t, passage.End, until);
    }

    /// <summary>dB against an ordinary note.</summary>
    public double LevelAt(double t) => LevelAt(t, withStops: true);

    /// <summary>As <see cref="LevelAt(double)"/>, but for what the air itself does where it stops between two notes: what is left is the tongue's.</summary>
    public double TonguedLevelAt(double t) => LevelAt(t, withStops: false);

    /// <summary>Share of the stream of air that there is, 0 to 1. In a rest nobody blows; where the air stops between two notes it comes
    /// and goes by itself, and no tongue has a part in it.</summary>
    public double AirflowAt(double t)
    {
        if (Sounding.IsEmpty || IsRest(opening, t) || IsRest(closing, t)) return 0;
        if (passages.Length == 0) return 1;
        Seek(t);
        var flow = 1.0;
        for (var i = Math.Max(0, cursor - 1); i <= Math.Min(passages.Length - 1, cursor + 1); i++)
        {
            if (RestOf(passages[i]) > 0) flow = IsRest(shapes[i], t) ? 0 : flow;
            else if (IsStop(passages[i])) flow *= shapes[i].ShareAt(t);
        }

        return flow;
    }

    private double LevelAt(double t, bool withStops)
    {
        if (Sounding.IsEmpty) return -SilenceDepth;
        var ends = opening.At(t) + closing.At(t);
        if (passages.Length == 0) return levels[0] + ends;
        Seek(t);
        var sum = BaseLevel(t) + ends;
        for (var i = Math.Max(0, cursor - 1); i <= Math.Min(passages.Length - 1, cursor + 1); i++)
            sum += (withStops || !IsStop(passages[i]) ? shapes[i].At(t) : 0) + BumpAt(i, t);
        return Math.Max(sum, -SilenceDepth);
    }

    // The tongue lets the next note go at the end of a rest: until then there is no air.
    private static bool IsRest(LevelShape silence, double t) => t < silence.HoldEnd && silence.At(t) < -Faded;

    private static bool IsStop(Passage p) => p.Execution.Gap.Value > 0;

    private double Alone()
    {
        var note = plan.Notes[Sounding[0]];
        return Math.Log2(plan.Instrument.Sounding(note.Setting!).Value) + (performance.Cents[note.Note.Index].Value / 1200);
    }

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

    private double TimeOf(int note) => performance.LeadIn.Value + (plan.Notes[note].Note.StartTime.Value / performance.TempoRatio);

    private double EndOf(int note) => performance.LeadIn.Value + (plan.Notes[note].Note.EndTime.Value / performance.TempoRatio);

    private static double RestOf(Passage p) => p.Execution.Rest.Value;

    private double BoundaryOf(Passage p) => RestOf(p) > 0 ? TimeOf(p.ToNote) : PassageGlide.Of(p)?.Centre ?? p.Middle;

    private LevelShape ShapeOf(Passage p, double boundary)
    {
        if (RestOf(p) > 0)
        {
            var end = TimeOf(p.ToNote);
            return LevelShape.Silence(end - RestOf(p), end, SilenceDepth, Release, Attack);
        }

        var e = p.Execution;
        var centre = boundary + e.DipOffset.Value;
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

    private (LevelShape Opening, LevelShape Closing) Ends()
    {
        if (Sounding.IsEmpty) return default;
        const double Far = 1e6;
        return (LevelShape.Silence(-Far, onsets[0], SilenceDepth, Release, Attack), LevelShape.Silence(offsets[^1], Far, SilenceDepth, Release, Attack));
    }

    private double BaseLevel(double t)
    {
        double a = levels[cursor], b = levels[cursor + 1];
        if (a == b) return a;
        var x = Math.Clamp(((t - boundaries[cursor]) / LevelBlend) + 0.5, 0, 1);
        return a + ((b - a) * x * x * (3 - (2 * x)));
    }

    // Begins where the dip is half way back: what bursts is what the tongue held up.
    private double BumpAt(int i, double t)
    {
        var height = passages[i].Execution.Bump.Value;
        if (height == 0) return 0;
        var x = (t - (shapes[i].HoldEnd + ((shapes[i].RiseEnd - shapes[i].HoldEnd) * 0.75))) / BumpLength;
        return x is <= 0 or >= 1 ? 0 : height * Math.Pow(Math.Sin(Math.PI * x), 2);
    }

    // Swells in after the beginning and is gone before the change, so that both stay as they were asked for.
    private double Vibrato(double t, double start, double end)
    {
        if (vibratoOctaves == 0) return 0;
        var swell = Math.Clamp((t - start - 0.15) / 0.2, 0, 1) * Math.Clamp((end - t) / 0.06, 0, 1);
        return vibratoOctaves * swell * Math.Sin(2 * Math.PI * vibratoRate * (t - start));
    }
}
