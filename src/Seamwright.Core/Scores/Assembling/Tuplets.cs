using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Assembling;

/// <summary>Where tuplet brackets begin and end: as the file says where that is sound, else found from the durations.</summary>
internal static class Tuplets
{
    /// <summary>Gives each event of a bar its <see cref="ScoreEvent.TupletEdge"/>.</summary>
    /// <param name="events">One bar in time order.</param>
    /// <param name="marks">For each event, how many brackets start and stop there.</param>
    public static void Settle(List<ScoreEvent> events, IReadOnlyList<(int Starts, int Stops)> marks)
    {
        if (!events.Exists(e => e.Value.InTuplet && !IsGrace(e))) return;
        var edges = AsMarked(events, marks) ?? AsFound(events);
        for (var i = 0; i < events.Count; i++) events[i] = events[i] with { TupletEdge = edges[i] };
    }

    private static bool IsGrace(ScoreEvent e) => e is Note { Grace: not Grace.None };

    // Nested brackets count as their outermost one.
    private static TupletEdge[]? AsMarked(List<ScoreEvent> events, IReadOnlyList<(int Starts, int Stops)> marks)
    {
        var edges = new TupletEdge[events.Count];
        var depth = 0;
        for (var i = 0; i < events.Count; i++)
        {
            if (IsGrace(events[i])) continue;
            var before = depth;
            depth += marks[i].Starts;
            if (depth > 0 != events[i].Value.InTuplet) return null;
            depth -= marks[i].Stops;
            if (depth < 0) return null;
            if (before == 0 && depth > 0) edges[i] = TupletEdge.Start;
            else if (before > 0 && depth == 0) edges[i] = TupletEdge.Stop;
        }

        return depth == 0 ? edges : null;
    }

    private static TupletEdge[] AsFound(List<ScoreEvent> events)
    {
        var edges = new TupletEdge[events.Count];
        var first = -1;
        var last = -1;
        var (held, smallest) = (Beats.Zero, Beats.Zero);
        for (var i = 0; i < events.Count; i++)
        {
            var e = events[i];
            if (IsGrace(e)) continue;
            if (first >= 0 && (!e.Value.InTuplet || !SameKind(e.Value, events[first].Value))) Close();
            if (!e.Value.InTuplet) continue;
            if (first < 0) (first, held, smallest) = (i, Beats.Zero, Unit(e.Value));
            last = i;
            held += e.Value.Duration;
            if (Unit(e.Value) < smallest) smallest = Unit(e.Value);
            if (IsBinary(held) && held >= smallest * e.Value.TupletNormal) Close();
        }

        Close();
        return edges;

        void Close()
        {
            if (first >= 0 && last > first) (edges[first], edges[last]) = (TupletEdge.Start, TupletEdge.Stop);
            first = -1;
        }
    }

    private static bool SameKind(NoteValue a, NoteValue b) => (a.TupletActual, a.TupletNormal) == (b.TupletActual, b.TupletNormal);

    private static Beats Unit(NoteValue value) => new NoteValue(value.Base).Duration;

    private static bool IsBinary(Beats b) => b.Denominator.IsPowerOfTwo;
}
