using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Engraving.Notation;

/// <summary>Which short notes share a beam.</summary>
/// <remarks>Common practice: beams show the beats. Compound meters beam in dotted beats; four eighths may share a half bar of
/// 2/4, 4/4 or 2/2; 5/8 reads 3 + 2 and 7/8 reads 2 + 2 + 3, the usual readings where the source does not say.</remarks>
internal static class Beaming
{
    /// <summary>For each event the number of its beam, or 0 where it stands alone. Grace notes take no part.</summary>
    /// <param name="events">Of one bar, or one tuplet in it.</param>
    /// <param name="meter">In force.</param>
    /// <param name="shift">Added to an offset to get its place in a full bar: a pickup begins late.</param>
    public static int[] Of(IReadOnlyList<ScoreEvent> events, Meter meter, Beats shift)
    {
        var halfBars = AllowsHalfBars(meter) && events.Where(e => e.Value.Base >= 3).All(e => e.Value == NoteValue.Eighth);
        var edges = Edges(meter, halfBars);
        var beams = new int[events.Count];
        var (beam, last, run) = (0, -1, new List<int>());
        for (var i = 0; i < events.Count; i++)
        {
            if (events[i] is Note { Grace: not Grace.None }) continue;
            var beamable = events[i] is Note && events[i].Value.Base >= 3;
            var group = GroupOf(edges, events[i].Offset + shift);
            if (!beamable || group != last) Close();
            last = group;
            if (beamable) run.Add(i);
        }

        Close();
        return beams;

        void Close()
        {
            if (run.Count > 1)
            {
                beam++;
                foreach (var i in run) beams[i] = beam;
            }

            run.Clear();
        }
    }

    /// <summary>Right edges of the beam groups in a bar, ascending.</summary>
    private static List<Beats> Edges(Meter meter, bool halfBars)
    {
        var edges = new List<Beats>();
        var at = Beats.Zero;
        foreach (var length in Groups(meter, halfBars))
        {
            at += length;
            edges.Add(at);
        }

        return edges;
    }

    private static IEnumerable<Beats> Groups(Meter meter, bool halfBars) => meter switch
    {
        { BeatUnit: 8, Beats: 5 } => [meter.Beat * 3, meter.Beat * 2],
        { BeatUnit: 8, Beats: 7 } => [meter.Beat * 2, meter.Beat * 2, meter.Beat * 3],
        { BeatUnit: >= 8 } when meter.Beats % 3 == 0 => Enumerable.Repeat(meter.Beat * 3, meter.Beats / 3),
        { BeatUnit: >= 8 } when meter.Beats % 2 == 0 => Enumerable.Repeat(meter.Beat * 2, meter.Beats / 2),
        _ when halfBars => Enumerable.Repeat(Beats.Quarter * 2, (int)Math.Ceiling(meter.BarLength.ToDouble() / 2)),
        _ => Enumerable.Repeat(Beats.Quarter, (int)Math.Ceiling(meter.BarLength.ToDouble())),
    };

    private static bool AllowsHalfBars(Meter meter) => meter is { BeatUnit: 4, Beats: 2 or 4 } or { BeatUnit: 2 };

    private static int GroupOf(List<Beats> edges, Beats place)
    {
        var index = edges.FindIndex(e => place < e);
        return index < 0 ? edges.Count : index;
    }
}
