using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>Writes an exercise note by note; bar lines, ties, tuplets and the rests that fill a bar come by themselves.</summary>
internal sealed class ExerciseWriting(KeySignature key, Meter meter)
{
    private readonly List<Bar> bars = [];
    private readonly List<Span> slurs = [], glissandi = [];
    private readonly List<Direction> directions = [];
    private List<ScoreEvent> events = [];
    private string section = "";
    private KeySignature key = key;
    private Beats at = Beats.Zero;
    private int notes;

    /// <summary>How long a bar is.</summary>
    public Beats BarLength => meter.BarLength;

    /// <summary>What is left of the bar that is being written; a whole bar at a bar line.</summary>
    public Beats LeftInBar => meter.BarLength - at;

    /// <summary>Begins a section on a new bar and a new system.</summary>
    /// <param name="heading">Printed above it.</param>
    /// <param name="signature">From here on; null keeps the one in force.</param>
    public void Section(string heading, KeySignature? signature = null)
    {
        FillBar();
        section = heading;
        key = signature ?? key;
    }

    /// <summary>Writes a note, tied over bar lines where it must be.</summary>
    /// <param name="pitch">Concert pitch.</param>
    /// <param name="length">More than zero.</param>
    /// <param name="asked">What is asked of the way into it.</param>
    /// <param name="setting">Prescribed slide setting; empty for none.</param>
    /// <param name="breath">Whether a breath mark stands after it.</param>
    /// <returns>Ids of its first and last written note.</returns>
    public Span Note(Pitch pitch, Beats length, ChangeIntent? asked = null, string setting = "", bool breath = false)
    {
        var pieces = Pieces(length);
        var ids = new List<string>();
        for (var i = 0; i < pieces.Count; i++)
        {
            var last = i == pieces.Count - 1;
            ids.Add($"n{++notes}");
            Put(new Note
            {
                Id = ids[^1],
                Offset = at,
                Duration = pieces[i].Duration,
                Value = pieces[i],
                Pitch = pitch,
                TieToNext = !last,
                BreathAfter = last && breath,
                Asked = i == 0 ? asked : null,
                Setting = i == 0 ? setting : "",
                TupletEdge = EdgeOf(pieces[i]),
            });
        }

        return new Span(ids[0], ids[^1]);
    }

    /// <summary>Writes a rest: plain shapes, cut where the beat wants it.</summary>
    public void Rest(Beats length)
    {
        while (length > Beats.Zero)
        {
            var here = length < LeftInBar ? length : LeftInBar;
            var pieces = at == Beats.Zero && here == meter.BarLength && Shapes.Exact(here) is { } whole ? [whole] : Shapes.Fill(at, here);
            foreach (var piece in pieces) PutRest(piece);
            length -= here;
        }
    }

    /// <summary>A slur from the first note of one to the last of another.</summary>
    public void Slur(Span from, Span to) => slurs.Add(new Span(from.FromId, to.ToId));

    /// <summary>A glissando line between two neighbours.</summary>
    public void Glissando(Span from, Span to) => glissandi.Add(new Span(from.ToId, to.FromId));

    /// <summary>Words above the staff where the pen is.</summary>
    public void Words(string words) => directions.Add(new Direction(at == meter.BarLength ? Beats.Zero : at, DirectionKind.Words, words));

    /// <summary>Rests to the bar line; nothing at one.</summary>
    public void FillBar()
    {
        if (at > Beats.Zero && at < meter.BarLength) Rest(meter.BarLength - at);
    }

    /// <summary>Copies finished bars in as a section, in their own meters and keys; what is written afterwards has the pen's again.</summary>
    /// <param name="heading">Printed above it.</param>
    /// <param name="music">Its repeats, tempos and clefs do not count.</param>
    public void Append(string heading, Part music)
    {
        FillBar();
        var ids = new Dictionary<string, string>();
        foreach (var bar in music.Bars)
        {
            bars.Add(bar with
            {
                Index = bars.Count,
                Number = $"{bars.Count + 1}",
                Start = bars.Count == 0 ? Beats.Zero : bars[^1].Start + bars[^1].Length,
                Section = bar.Index == music.Bars[0].Index ? heading : "",
                Clefs = [],
                Tempos = [],
                Road = BarRoad.Straight,
                Events = [.. bar.Events.Select(e => e with { Id = ids[e.Id] = $"{(e is Note ? 'n' : 'r')}{++notes}" })],
            });
        }

        slurs.AddRange(music.Slurs.Select(Renamed));
        glissandi.AddRange(music.Glissandi.Select(Renamed));

        Span Renamed(Span s) => new(ids[s.FromId], ids[s.ToId]);
    }

    /// <summary>The finished part; nothing can be written afterwards.</summary>
    public Part Finish()
    {
        FillBar();
        if (bars.Count == 0) throw new InvalidOperationException("Nothing was written.");
        bars[^1] = bars[^1] with { Road = BarRoad.Straight with { RightBarline = BarlineStyle.Final } };
        return new Part { Id = "P1", Name = "Trombone", Bars = [.. bars], Slurs = [.. slurs], Glissandi = [.. glissandi] };
    }

    // One shape where the bar has room for it, else so many as bar lines and beats want.
    private List<NoteValue> Pieces(Beats length)
    {
        if (length <= LeftInBar && Shapes.Exact(length) is { } one) return [one];
        var pieces = new List<NoteValue>();
        var (offset, left) = (at, length);
        while (left > Beats.Zero)
        {
            var room = meter.BarLength - offset;
            var here = left < room ? left : room;
            pieces.AddRange(Shapes.Exact(here) is { } whole ? [whole] : Shapes.Fill(offset, here));
            left -= here;
            offset = Beats.Zero;
        }

        return pieces;
    }

    // Tuplets are bracketed by the beat.
    private TupletEdge EdgeOf(NoteValue value)
    {
        if (!value.InTuplet) return TupletEdge.None;
        if (IsOnBeat(at)) return TupletEdge.Start;
        return IsOnBeat(at + value.Duration) ? TupletEdge.Stop : TupletEdge.None;
    }

    private bool IsOnBeat(Beats place)
    {
        var beats = place.Times(meter.BeatUnit, 4);
        return beats.Denominator.IsOne;
    }

    private void PutRest(NoteValue value)
    {
        var fills = at == Beats.Zero && value.Duration == meter.BarLength;
        Put(new Rest { Id = $"r{++notes}", Offset = at, Duration = value.Duration, Value = fills ? NoteValue.Whole : value, FillsBar = fills });
    }

    private void Put(ScoreEvent e)
    {
        events.Add(e);
        at += e.Duration;
        if (at < meter.BarLength) return;
        var start = bars.Count == 0 ? Beats.Zero : bars[^1].Start + bars[^1].Length;
        bars.Add(new Bar
        {
            Index = bars.Count,
            Number = $"{bars.Count + 1}",
            Start = start,
            Length = meter.BarLength,
            Meter = meter,
            Key = key,
            Section = section,
            Directions = [.. directions],
            Events = [.. events],
        });
        events = [];
        directions.Clear();
        section = "";
        at = Beats.Zero;
    }
}
