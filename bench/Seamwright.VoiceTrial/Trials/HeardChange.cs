using Seamwright.Core.Instruments;
using Seamwright.VoiceTrial.Measuring;
using Seamwright.VoiceTrial.Playing;

namespace Seamwright.VoiceTrial.Trials;

/// <summary>What the samples say about a change.</summary>
/// <param name="AskedMs">10 to 90 % of the asked pitch path.</param>
/// <param name="HeardMs">The same of the heard one.</param>
/// <param name="MiddleOffMs">Heard crossing of the middle pitch after the asked one.</param>
/// <param name="EndCents">Second note against its asked pitch.</param>
/// <param name="DipDb">Lowest level between the notes below the quieter one.</param>
/// <param name="DipOffsetMs">Its place after the middle of the movement.</param>
/// <param name="Stray">Furthest that the pitch lay outside the two notes, in cents, for 20 ms at least.</param>
internal readonly record struct HeardChange(double AskedMs, double? HeardMs, double? MiddleOffMs, double? EndCents, double DipDb, double DipOffsetMs, double Stray)
{
    private const int Hop = 48;
    private const double Around = 0.35;

    public static HeardChange Of(float[] x, Instrument instrument, Change change)
    {
        var (low, high) = (change.Asked(instrument, 0), change.Asked(instrument, Change.Seconds));
        var (from, to) = (Math.Log2(low), Math.Log2(high));
        (low, high) = (Math.Min(low, high), Math.Max(low, high));
        int first = (int)((Change.Middle - Around) * 1000), last = (int)((Change.Middle + Around) * 1000);
        double[] asked = new double[last - first], heard = new double[last - first];
        var width = (int)(Performer.Rate / low);
        for (var i = 0; i < asked.Length; i++)
        {
            var t = (first + i) / 1000.0;
            asked[i] = (Math.Log2(change.Asked(instrument, t)) - from) / (to - from);
            heard[i] = PeriodMeter.At(x, (int)(t * Performer.Rate), width, Performer.Rate, low / 1.6, high * 1.6) is { } hz
                ? (Math.Log2(hz) - from) / (to - from) : double.NaN;
        }

        var level = Levels.Track(x, Levels.Window(low, Performer.Rate), Hop);
        var quieter = Math.Min(level[(first - 50)..first].Average(), level[^150..^50].Average());
        var at = Enumerable.Range(first, last - first).MinBy(i => level[i]);
        var end = PeriodMeter.Steady(x.AsSpan((int)(2.4 * Performer.Rate), (int)(0.5 * Performer.Rate)), Performer.Rate, low / 1.6, high * 1.6);
        var cents = 1200 * Math.Abs(to - from);
        return new(
            Crossing(asked, 0.9) - Crossing(asked, 0.1) ?? 0,
            Crossing(heard, 0.9) - Crossing(heard, 0.1),
            Crossing(heard, 0.5) - Crossing(asked, 0.5),
            end is { } e ? 1200 * (Math.Log2(e) - to) : null,
            quieter - level[at],
            at - (1000 * Change.Middle),
            Enumerable.Range(0, heard.Length - 20).Max(i => heard.Skip(i).Take(20).Min(Outside)) * cents);

        static double Outside(double share) => double.IsNaN(share) ? 0 : Math.Max(0, Math.Max(-share, share - 1));
    }

    // Where the path last crosses a share of the way, in ms by straight lines; gaps are skipped.
    private static double? Crossing(double[] path, double share)
    {
        double? found = null;
        var before = -1;
        for (var i = 0; i < path.Length; i++)
        {
            if (double.IsNaN(path[i])) continue;
            if (before >= 0 && path[before] < share && path[i] >= share)
                found = before + ((i - before) * (share - path[before]) / (path[i] - path[before]));
            before = i;
        }

        return found;
    }

    public override string ToString() =>
        $"{AskedMs,8:0.0} {Text(HeardMs),9} {Text(MiddleOffMs),14} {Text(EndCents),10} {DipDb,7:0.0} at {DipOffsetMs,4:0} ms  {(Stray > 60 ? $"stray {Stray:0} cents " : "")}{(EndCents is { } e && Math.Abs(e) < 50 ? "" : "WRONG PARTIAL")}";

    private static string Text(double? value) => value is { } v ? $"{v:0.0}" : "--";
}
