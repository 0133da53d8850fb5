using System.Collections.Immutable;

namespace Seamwright.Core.Diagnosis.Page;

/// <summary>Cuts a long time into rows, as music is cut into systems.</summary>
internal static class Systems
{
    /// <summary>Spans of at most 1.2 lengths that follow each other, cut as far from any event as the last fifth of each allows.</summary>
    /// <param name="start">Where the first begins.</param>
    /// <param name="end">Where the last ends.</param>
    /// <param name="length">Usual length, greater than 0.</param>
    /// <param name="events">Where not to cut, in any order.</param>
    public static ImmutableArray<(double From, double To)> Cut(double start, double end, double length, IReadOnlyList<double> events)
    {
        var rows = ImmutableArray.CreateBuilder<(double, double)>();
        var from = start;
        while (end - from > length * 1.2)
        {
            var to = Quietest(from + (length * 0.8), from + length, events);
            rows.Add((from, to));
            from = to;
        }

        rows.Add((from, Math.Max(end, from + 0.1)));
        return rows.ToImmutable();
    }

    private static double Quietest(double low, double high, IReadOnlyList<double> events)
    {
        const int Tries = 24;
        return Enumerable.Range(0, Tries + 1).Select(i => high - ((high - low) * i / Tries)).MaxBy(t => Distance(t, events));
    }

    // Further than this from every event is far enough: then the longest row wins.
    private static double Distance(double t, IReadOnlyList<double> events) =>
        Math.Min(0.3, events.Count == 0 ? 1 : events.Min(e => Math.Abs(e - t)));
}
