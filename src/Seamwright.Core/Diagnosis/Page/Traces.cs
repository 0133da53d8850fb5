using Seamwright.Core.Listening;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis.Page;

/// <summary>All rows of the trace, once for wide and once for narrow pages; the style sheet shows one of them.</summary>
internal sealed class Traces(Take take, Diagnosis diagnosis, Plan plan, HtmlText html)
{
    // Seconds in a row and units of the drawing: the same size of print on both.
    private const double WideSeconds = 8, WideUnits = 1000, NarrowSeconds = 2.6, NarrowUnits = 330;

    // A row shows at least an octave, so that a wrong pitch does not fill the page.
    private const double LeastSemitones = 12, Margin = 2;

    public void Draw()
    {
        Draw("wide", WideSeconds, WideUnits);
        Draw("narrow", NarrowSeconds, NarrowUnits);
    }

    private void Draw(string look, double seconds, double units)
    {
        html.Line($"""<div class="rows {look}">""");
        var (start, end) = Extent();
        var events = plan.Changes.Select(c => TakeParts.TimeOf(take, c)).OfType<double>().Order().ToList();
        var rows = Systems.Cut(start, end, seconds, events);
        var top = TopLevel();
        var row = new TraceRow(take, diagnosis, plan, html);

        // One time scale for all rows, so that a glide looks as long as it is.
        var longest = Math.Max(seconds, rows.Max(r => r.To - r.From));
        for (var i = 0; i < rows.Length; i++)
        {
            var (from, to) = rows[i];
            var (low, high) = Range(from, to);
            var scale = new TraceScale { From = from, To = to, Width = units * (to - from) / longest, LowMidi = low, HighMidi = high, TopDb = top };
            row.Draw(scale, units, $"Pitch and level from {from:0.0} to {to:0.0} s, row {i + 1} of {rows.Length}");
        }

        html.Line($"</div>");
    }

    // From just before the first note to just after the last; the whole track where nothing was found.
    private (double Start, double End) Extent()
    {
        var onsets = take.Notes.Select(n => n.Onset?.Value).OfType<double>().ToList();
        var offsets = take.Notes.Select(n => n.Offset?.Value).OfType<double>().ToList();
        if (onsets.Count > 0 && offsets.Count > 0) return (Math.Max(0, onsets.Min() - 0.25), offsets.Max() + 0.25);
        return take.Track.Frames.IsEmpty ? (0, 1) : (take.Track.Start.Value, take.Track.TimeOf(take.Track.Frames.Length - 1).Value);
    }

    private (double Low, double High) Range(double from, double to)
    {
        var here = take.Notes.Where(n => n.Onset?.Value <= to && n.Offset?.Value >= from).Select(n => (double)n.Pitch.Midi).ToList();
        if (here.Count == 0) here = plan.Notes.IsEmpty ? [58] : [.. plan.Notes.Select(n => (double)n.Note.Pitch.Midi)];
        double low = here.Min() - Margin, high = here.Max() + Margin;
        var missing = Math.Max(0, LeastSemitones - (high - low)) / 2;
        return (low - missing, high + missing);
    }

    // The loudest steady note is the axis's 0 dB.
    private double TopLevel()
    {
        var levels = take.Notes.Select(n => n.Level?.Value).OfType<double>().ToList();
        if (levels.Count > 0) return levels.Max();
        return take.Track.Frames.IsEmpty ? 0 : take.Track.Frames.Max(f => f.Level.Value);
    }
}
