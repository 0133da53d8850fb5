using System.Text;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Diagnosis.Page;

/// <summary>Draws one row: planned notes and the pitch that was heard, the changes with their verdicts, the level.</summary>
internal sealed class TraceRow(Take take, Diagnosis diagnosis, Plan plan, HtmlText html)
{
    // Three lines of words below the marks; a word that fits on none is left to the table.
    private const int Lanes = 3;
    private const double LaneHeight = 12, LetterWidth = 5.6;

    /// <summary>Writes the row as one SVG picture with a title for those who cannot see it.</summary>
    /// <param name="scale">Where things lie.</param>
    /// <param name="units">Width of the longest row: a shorter one leaves the rest of the line empty.</param>
    /// <param name="title">What a reader who cannot see it is told.</param>
    public void Draw(TraceScale scale, double units, string title)
    {
        var width = TraceScale.Left + units + 8;
        html.Line($"""<svg class="row" viewBox="0 0 {width:0} {TraceScale.Height:0}" role="img" aria-label="{title}">""");
        html.Line($"<title>{title}</title>");
        DrawGrid(scale);
        DrawLevel(scale);
        DrawPlanned(scale);
        DrawPitch(scale);
        DrawChanges(scale);
        html.Line($"</svg>");
    }

    private void DrawGrid(TraceScale s)
    {
        double right = TraceScale.Left + s.Width;
        for (var second = Math.Ceiling(s.From - 1e-9); second <= s.To; second++)
        {
            html.Write($"""<path class="grid" d="M{s.X(second):0.0} {TraceScale.PitchTop:0}V{TraceScale.LevelBottom:0}"/>""");
            html.Line($"""<text class="axis" x="{s.X(second):0.0}" y="{TraceScale.LevelBottom + 14:0}" text-anchor="middle">{second:0} s</text>""");
        }

        foreach (var db in (ReadOnlySpan<double>)[0, 20, 40])
        {
            html.Write($"""<path class="grid" d="M{TraceScale.Left:0} {s.LevelY(s.TopDb - db):0.0}H{right:0}"/>""");
            html.Line($"""<text class="axis" x="{TraceScale.Left - 4:0}" y="{s.LevelY(s.TopDb - db) + 3:0.0}" text-anchor="end">{(db == 0 ? "0 dB" : $"−{db:0}")}</text>""");
        }
    }

    private void DrawLevel(TraceScale s)
    {
        var path = new StringBuilder();
        var last = double.NaN;
        foreach (var (t, frame) in Frames(s, 2))
        {
            if (path.Length == 0) path.Append($"M{s.X(t):0.0} {TraceScale.LevelBottom:0}");
            path.Append($"L{s.X(t):0.0} {s.LevelY(frame.Level.Value):0.0}");
            last = t;
        }

        if (path.Length > 0) html.Line($"""<path class="level" d="{path}L{s.X(last):0.0} {TraceScale.LevelBottom:0}Z"/>""");
    }

    private void DrawPlanned(TraceScale s)
    {
        var right = TraceScale.Left + s.Width;
        var free = double.MinValue;
        foreach (var heard in take.Notes)
        {
            if (heard.Onset is not { } on || heard.Offset is not { } off || off.Value < s.From || on.Value > s.To) continue;
            double x = Math.Max(s.X(on.Value), TraceScale.Left), end = Math.Min(s.X(off.Value), right), y = s.PitchY(heard.Pitch.Midi);
            html.Write($"""<rect class="note" x="{x:0.0}" y="{y - 4:0.0}" width="{Math.Max(1, end - x):0.0}" height="8" rx="2"/>""");
            if (x < free || !s.Shows(on.Value)) continue;
            string name = heard.Pitch.ToDisplay(), position = plan.Notes[heard.Index].Setting?.Label ?? "";
            html.Line($"""<text class="name" x="{x + 1:0.0}" y="{(y < TraceScale.PitchTop + 14 ? y + 16 : y - 7):0.0}">{name} <tspan class="position">{position}</tspan></text>""");
            free = x + ((name.Length + position.Length + 1) * LetterWidth) + 2;
        }
    }

    private void DrawPitch(TraceScale s)
    {
        var path = new StringBuilder();
        double? before = null;
        foreach (var (t, frame) in Frames(s, 1.2))
        {
            var midi = frame.Pitch is { } f ? Midi(f) : double.NaN;
            if (!(s.Holds(midi) && frame.Level.Value > s.TopDb - TraceScale.FloorDb))
            {
                before = null;
                continue;
            }

            // A jump of more than a semitone from frame to frame is a break, not a line.
            var joined = before is { } b && Math.Abs(midi - b) < 1;
            path.Append($"{(joined ? 'L' : 'M')}{s.X(t):0.0} {s.PitchY(midi):0.0}");
            before = midi;
        }

        if (path.Length > 0) html.Line($"""<path class="pitch" d="{path}"/>""");
    }

    private void DrawChanges(TraceScale s)
    {
        var lanes = new double[Lanes];
        Array.Fill(lanes, double.MinValue);
        foreach (var change in plan.Changes)
        {
            if (TakeParts.TimeOf(take, change) is not { } time || !s.Shows(time)) continue;
            DrawChange(s, change, s.X(time), lanes);
        }
    }

    private void DrawChange(TraceScale s, NoteChange change, double x, double[] lanes)
    {
        var judgement = diagnosis.Changes[change.Index];
        var worst = TakeParts.Worst(judgement.Findings);
        var look = VerdictMarks.Class(worst);
        html.Write($"""<g class="mark {look}"><title>{Told(change, judgement)}</title>""");
        html.Write($"""<path class="post" d="M{x:0.0} {TraceScale.PitchTop:0}V{TraceScale.MarkLane - 8:0}M{x:0.0} {TraceScale.LevelTop:0}V{TraceScale.LevelBottom:0}"/>""");
        html.Write($"""<g transform="translate({x:0.0} {TraceScale.MarkLane:0})">{VerdictMarks.Shape(worst)}</g>""");
        DrawWord(s, $"{change.Index} {worst.Words()}", x, lanes);
        html.Line($"</g>");
    }

    private void DrawWord(TraceScale s, string word, double x, double[] lanes)
    {
        var width = word.Length * LetterWidth;
        var left = Math.Clamp(x - (width / 2), TraceScale.Left, TraceScale.Left + s.Width + 8 - width);
        var lane = Array.FindIndex(lanes, free => free <= left);
        if (lane < 0) return;
        lanes[lane] = left + width + 4;
        html.Write($"""<text class="word" x="{left:0.0}" y="{TraceScale.MarkLane + 17 + (lane * LaneHeight):0.0}">{word}</text>""");
    }

    private string Told(NoteChange change, ChangeJudgement judgement) =>
        $"Change {change.Index}, {TakeParts.PlaceOf(plan, change)}: {string.Join(", ", judgement.Verdicts.Select(v => v.Words()))}. {judgement.Advice}";

    // Frames in the row, one for each so many units of the drawing.
    private IEnumerable<(double Time, Frame Frame)> Frames(TraceScale s, double units)
    {
        var track = take.Track;
        if (track.Frames.IsEmpty || track.Hop.Value <= 0) yield break;
        var step = Math.Max(1, (int)(units * (s.To - s.From) / s.Width / track.Hop.Value));
        var first = Math.Max(0, (int)Math.Ceiling((s.From - track.Start.Value) / track.Hop.Value));
        for (var i = first; i < track.Frames.Length; i += step)
        {
            var t = track.TimeOf(i).Value;
            if (t > s.To) yield break;
            yield return (t, track.Frames[i]);
        }
    }

    private double Midi(Hertz f) => 69 + (f.Above(plan.Instrument.A4).Value / 100);
}
