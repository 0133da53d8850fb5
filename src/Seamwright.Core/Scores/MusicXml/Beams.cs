using System.Numerics;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.MusicXml;

/// <summary>Beams by the beat (common practice): compound meters by three of their units, cut time by the half note, others by the quarter.</summary>
internal static class Beams
{
    /// <summary>For each note id, what each beam level does.</summary>
    public static IReadOnlyDictionary<string, List<string>> Of(Part part, Bar bar)
    {
        var beams = new Dictionary<string, List<string>>();
        var group = new List<ScoreEvent>();
        var beat = BeamUnit(bar.Meter);
        BigInteger last = -1;
        foreach (var e in bar.Events.Where(e => e is not Note { Grace: not Grace.None }))
        {
            var place = (BarCount.BeatOf(part, bar, e.Offset) - Beats.Quarter).Times(4, bar.Meter.BeatUnit);
            var index = place.Numerator * beat.Denominator / (place.Denominator * beat.Numerator);
            if (index != last || e is not Note || e.Value.Base < 3) Close();
            last = index;
            if (e is Note && e.Value.Base >= 3) group.Add(e);
        }

        Close();
        return beams;

        void Close()
        {
            for (var i = 0; i < group.Count && group.Count > 1; i++)
                beams[group[i].Id] = [.. Enumerable.Range(1, group[i].Value.Base - 2).Select(level => Beam(group, i, level))];
            group.Clear();
        }
    }

    private static string Beam(List<ScoreEvent> group, int i, int level)
    {
        var before = i > 0 && group[i - 1].Value.Base - 2 >= level;
        var after = i + 1 < group.Count && group[i + 1].Value.Base - 2 >= level;
        return (before, after) switch
        {
            (true, true) => "continue",
            (true, false) => "end",
            (false, true) => "begin",
            _ => i == 0 ? "forward hook" : "backward hook",
        };
    }

    private static Beats BeamUnit(Meter meter) =>
        meter.BeatUnit >= 8 && meter.Beats % 3 == 0 ? meter.Beat * 3 : meter.BeatUnit <= 2 ? new Beats(2, 1) : Beats.Quarter;
}
