using System.Collections.Immutable;

namespace Seamwright.Core.Scores;

/// <summary>How the road came to a bar.</summary>
internal enum Arrival
{
    /// <summary>From the bar before, or the beginning.</summary>
    Straight,

    /// <summary>Forward over an ending, or to the coda.</summary>
    Skip,

    /// <summary>Back to a repeat sign, a segno or the beginning.</summary>
    Back,
}

/// <summary>One bar on the road as it is played.</summary>
/// <param name="Bar">Index on the sheet.</param>
/// <param name="Pass">1 the first time.</param>
/// <param name="Arrival">Where it was come from.</param>
internal readonly record struct RoadStep(int Bar, int Pass, Arrival Arrival);

/// <summary>The way through a part: repeats with endings, D.C. and D.S., Fine and Coda (common practice).</summary>
/// <remarks>A repeat without a start goes back to the end of the repeat before it, or to the beginning. A jump is taken once,
/// after all repeats around it. After it, Fine and To Coda hold, and repeats already played are not taken again: their last
/// ending is played. Repeats first reached after the jump are taken.</remarks>
internal sealed class Road
{
    private readonly ImmutableArray<Bar> bars;
    private readonly int most;
    private readonly List<Passage> passages = [];
    private readonly Dictionary<int, Passage> byRepeat = [];
    private readonly Dictionary<int, Passage> byEnding = [];
    private readonly List<RoadStep> steps = [];
    private readonly int[] passes;
    private readonly HashSet<int> jumpsTaken = [];
    private bool jumped;

    private Road(Part part, int most)
    {
        bars = part.Bars;
        this.most = most;
        passes = new int[bars.Length];
        FindPassages();
    }

    public List<Problem> Problems { get; } = [];

    public IReadOnlyList<RoadStep> Steps => steps;

    /// <summary>Walks a part.</summary>
    /// <param name="part">As it stands on the sheet.</param>
    /// <param name="most">Bars after which the walk stops with a problem.</param>
    public static Road Walk(Part part, int most)
    {
        var road = new Road(part, most);
        road.Walk();
        return road;
    }

    private sealed class Passage(int start)
    {
        public int Start { get; } = start;

        public int End { get; set; }

        public int Times { get; set; }

        public int Pass { get; set; } = 1;

        public bool Done { get; set; }
    }

    private void FindPassages()
    {
        var starts = new Stack<int>();
        var implicitStart = 0;
        for (var i = 0; i < bars.Length; i++)
        {
            if (bars[i].Road.RepeatStarts) starts.Push(i);
            if (bars[i].Road.RepeatTimes == 0) continue;
            var passage = new Passage(starts.TryPop(out var start) ? start : Math.Min(implicitStart, i)) { End = i, Times = bars[i].Road.RepeatTimes };
            passages.Add(passage);
            byRepeat[i] = passage;
            if (!bars[i].Road.Endings.IsEmpty) AddEndings(passage, i);
            i = passage.End;
            implicitStart = i + 1;
        }
    }

    // Brackets that follow one another belong to one repeat; the highest number among them says how often it is played.
    private void AddEndings(Passage passage, int repeat)
    {
        var first = repeat;
        while (first > passage.Start && !bars[first].Road.EndingStarts && !bars[first - 1].Road.Endings.IsEmpty) first--;
        var brackets = 0;
        for (var i = first; i < bars.Length && !bars[i].Road.Endings.IsEmpty && (i == first || bars[i].Road.EndingStarts); i = passage.End + 1)
        {
            brackets++;
            byEnding[i] = passage;
            passage.End = EndOfBracket(i);
            passage.Times = Math.Max(passage.Times, bars[i].Road.Endings.Max());
            if (bars[passage.End].Road.RepeatTimes > 0) byRepeat[passage.End] = passage;
        }

        if (brackets == 1) passage.Times = Math.Max(passage.Times, bars[first].Road.Endings.Max() + 1);
    }

    private int EndOfBracket(int i)
    {
        while (!bars[i].Road.EndingStops && i + 1 < bars.Length && !bars[i + 1].Road.Endings.IsEmpty && !bars[i + 1].Road.EndingStarts) i++;
        return i;
    }

    private void Walk()
    {
        var (i, arrival) = (0, Arrival.Straight);
        while (i < bars.Length)
        {
            if (byEnding.TryGetValue(i, out var passage) && !bars[i].Road.Endings.Contains(passage.Pass))
            {
                (i, arrival) = (EndOfBracket(i) + 1, Arrival.Skip);
                continue;
            }

            if (steps.Count >= most)
            {
                Problems.Add(new Problem($"bar {bars[i].Number}", $"The repeats lead to more than {most} bars; playing stops here.", "Check the repeat signs and jumps."));
                return;
            }

            steps.Add(new RoadStep(i, ++passes[i], arrival));
            if (jumped && bars[i].Road.Fine) return;
            (i, arrival) = Next(i);
        }
    }

    private (int Bar, Arrival Arrival) Next(int i)
    {
        if (jumped && bars[i].Road.ToCoda && CodaAfter(i) is { } coda) return (coda, Arrival.Skip);
        if (byRepeat.TryGetValue(i, out var passage) && passage.Pass < passage.Times)
        {
            passage.Pass++;
            foreach (var inner in passages.Where(p => p != passage && !p.Done && p.Start >= passage.Start && p.End <= passage.End)) inner.Pass = 1;
            return (passage.Start, Arrival.Back);
        }

        var road = bars[i].Road;
        if (road.Jump != Jump.None && passages.TrueForAll(p => p.Start > i || p.End < i || p.Pass >= p.Times) && jumpsTaken.Add(i))
            return (Land(i, road.Jump), Arrival.Back);
        return (i + 1, Arrival.Straight);
    }

    private int Land(int from, Jump jump)
    {
        jumped = true;
        foreach (var played in passages.Where(p => passes[p.Start] > 0)) (played.Done, played.Pass) = (true, played.Times);
        if (jump == Jump.DaCapo) return 0;
        var segno = LastIndex(from, b => b.Segno);
        if (segno >= 0) return segno;
        Problems.Add(new Problem($"bar {bars[from].Number}", "D.S. stands here, but there is no segno before it; the beginning is taken.", "Write the segno where the repeat begins."));
        return 0;
    }

    private int? CodaAfter(int from)
    {
        for (var i = from + 1; i < bars.Length; i++)
        {
            if (bars[i].Road.Coda) return i;
        }

        Problems.Add(new Problem($"bar {bars[from].Number}", "To Coda stands here, but no coda follows; it is not followed.", "Write the coda sign where the coda begins."));
        return null;
    }

    private int LastIndex(int from, Func<BarRoad, bool> wanted)
    {
        for (var i = from; i >= 0; i--)
        {
            if (wanted(bars[i].Road)) return i;
        }

        return -1;
    }
}
