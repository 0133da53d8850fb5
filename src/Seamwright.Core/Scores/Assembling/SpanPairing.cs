namespace Seamwright.Core.Scores.Assembling;

/// <summary>Pairs the two ends of slurs and glissando lines.</summary>
/// <remarks>First by number within a voice, in time order and not in file order; then, for ends that stay alone, whatever
/// end comes next in the voice; then across voices, where the line ends with the last note of its own voice.</remarks>
internal sealed class SpanPairing(string part, bool glissandi, ProblemLog log)
{
    private readonly List<End> starts = [];
    private readonly List<End> stops = [];

    private sealed record End(int Voice, int Position, int Number, PlacedNote Note)
    {
        public bool Used { get; set; }
    }

    /// <summary>The spans of each voice.</summary>
    public List<List<Span>> Pair(IReadOnlyList<IReadOnlyList<PlacedNote>> voices)
    {
        var spans = voices.Select(_ => new List<(int From, int To)>()).ToList();
        for (var v = 0; v < voices.Count; v++) PairByNumber(voices[v], v, spans[v]);
        PairLeftovers(starts.GroupBy(s => s.Voice), stops.ToLookup(s => s.Voice), (start, stop) => spans[start.Voice].Add((start.Position, stop.Position)));
        PairLeftovers(starts.GroupBy(s => s.Number), stops.ToLookup(s => s.Number), (start, stop) => spans[start.Voice].Add((start.Position, LastBefore(voices[start.Voice], stop))));
        Complain();
        return [.. spans.Select((list, v) => Finished(list, voices[v]))];
    }

    private static List<Span> Finished(List<(int From, int To)> list, IReadOnlyList<PlacedNote> notes) =>
        [.. list.Where(s => s.To > s.From).Distinct().OrderBy(s => s.From).ThenBy(s => s.To).Select(s => new Span(notes[s.From].FirstId, notes[s.To].LastId))];

    private void PairByNumber(IReadOnlyList<PlacedNote> notes, int voice, List<(int From, int To)> spans)
    {
        var open = new Dictionary<int, End>();
        for (var i = 0; i < notes.Count; i++)
        {
            foreach (var mark in notes[i].Raw.Spans.Where(s => s.IsGlissando == glissandi).OrderByDescending(s => s.Edge))
            {
                var end = new End(voice, i, mark.Number, notes[i]);
                if (mark.Edge == MarkEdge.Stop)
                {
                    if (open.Remove(mark.Number, out var start)) spans.Add((start.Position, i));
                    else stops.Add(end);
                    continue;
                }

                if (open.Remove(mark.Number, out var unended)) starts.Add(unended);
                open[mark.Number] = end;
            }
        }

        starts.AddRange(open.Values);
        starts.Sort((a, b) => (a.Voice, a.Position).CompareTo((b.Voice, b.Position)));
    }

    // Both lists run forward in time, so that one pass is enough.
    private static void PairLeftovers(IEnumerable<IGrouping<int, End>> startGroups, ILookup<int, End> stopGroups, Action<End, End> pair)
    {
        foreach (var group in startGroups)
        {
            using var stop = stopGroups[group.Key].Where(s => !s.Used).OrderBy(s => s.Note.Onset).ToList().GetEnumerator();
            var more = stop.MoveNext();
            foreach (var start in group.Where(s => !s.Used).OrderBy(s => s.Note.Onset).ToList())
            {
                while (more && stop.Current.Note.Onset <= start.Note.Onset) more = stop.MoveNext();
                if (!more) break;
                pair(start, stop.Current);
                (start.Used, stop.Current.Used) = (true, true);
                more = stop.MoveNext();
            }
        }
    }

    private static int LastBefore(IReadOnlyList<PlacedNote> notes, End stop)
    {
        var (low, high) = (0, notes.Count);
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (notes[middle].Onset <= stop.Note.Onset) low = middle + 1;
            else high = middle;
        }

        return low - 1;
    }

    private void Complain()
    {
        var name = glissandi ? "glissando line" : "slur";
        foreach (var _ in starts.Where(s => !s.Used)) log.Warn(new Place(part), $"A {name} begins and never ends; it is left out.");
        foreach (var _ in stops.Where(s => !s.Used)) log.Warn(new Place(part), $"A {name} ends and never began; it is left out.");
    }
}
