using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Midi;

/// <summary>Tempo changes of a line, fermatas among them.</summary>
internal static class MidiTempos
{
    /// <summary>Quarter notes a minute from each place on; the first is at 0.</summary>
    public static List<(Beats At, double QuartersPerMinute)> Of(Line line)
    {
        var marks = line.Tempo.Marks;
        var places = marks.Select(m => m.At < Beats.Zero ? Beats.Zero : m.At).Append(Beats.Zero)
            .Concat(line.Tempo.Holds.Where(h => h.Before > Beats.Zero).SelectMany(h => new[] { Slowed(line, h), h.Before })).Distinct().Order().ToList();
        var tempos = new List<(Beats, double)>();
        for (var i = 0; i < places.Count; i++)
        {
            var tempo = i + 1 < places.Count && line.Tempo.Holds.Any(h => h.Before == places[i + 1])
                ? Mean(line, places[i], places[i + 1])
                : marks.LastOrDefault(m => m.At <= places[i], marks[0]).QuartersPerMinute;
            if (tempos.Count == 0 || tempos[^1].Item2 != tempo) tempos.Add((places[i], tempo));
        }

        return tempos;
    }

    // Where the tempo slows down for a hold: a quarter note before its end.
    private static Beats Slowed(Line line, Hold hold)
    {
        var from = hold.Before - Beats.Quarter;
        var note = line.Notes.Where(n => n.End == hold.Before).Select(n => n.Start).FirstOrDefault(Beats.Zero);
        return from > note ? from : note;
    }

    private static double Mean(Line line, Beats from, Beats to) => Math.Clamp((to - from).ToDouble() * 60 / line.Tempo.Between(from, to).Value, 4, 1000);
}
