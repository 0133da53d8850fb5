using Seamwright.Core.Planning;

namespace Seamwright.Core.Listening;

/// <summary>Which notes a pass may hold, and between which boundaries each may begin.</summary>
/// <remarks>A pass reaches a few notes beyond what its tones showed, as far as the recording between its neighbours allows.</remarks>
internal sealed class PassBand
{
    private const int Beyond = 2;
    private const int NotesAround = 3;
    private const double LeastAround = 1.2;
    private const double Margin = 0.3;
    private const double SlowestStart = 1.5;

    private readonly (int From, int To)[] windows;

    private PassBand(int firstNote, int lastNote, int from, int to, TempoCurve tempo, (int, int)[] windows)
    {
        (FirstNote, LastNote, From, To, Tempo, this.windows) = (firstNote, lastNote, from, to, tempo, windows);
    }

    public int FirstNote { get; }

    public int LastNote { get; }

    /// <summary>The region's first frame.</summary>
    public int From { get; }

    /// <summary>Its last frame: sums run up to it.</summary>
    public int To { get; }

    public TempoCurve Tempo { get; }

    /// <summary>Boundaries at which a note may begin: from the first up to but not including the second.</summary>
    public (int From, int To) Window(int note) => windows[note - FirstNote];

    /// <summary>The last boundary at which it may end.</summary>
    public int LatestEnd(int note) => note == LastNote ? int.MaxValue : windows[Math.Min(note + 1, LastNote) - FirstNote].To;

    /// <summary>The band around a pass, and the boundaries of its region.</summary>
    /// <param name="plan">The part.</param>
    /// <param name="pass">Its anchors.</param>
    /// <param name="all">Every boundary of the recording.</param>
    /// <param name="limits">Frames between which nothing else was found.</param>
    /// <param name="hop">Seconds between frames.</param>
    public static (PassBand Band, Boundary[] Places) Around(Plan plan, Pass pass, Boundary[] all, (int From, int To) limits, double hop)
    {
        var onsets = pass.Anchors.Select(a => (a.Note, a.From * hop)).ToList();
        var one = pass.Anchors[0];
        var tempo = new TempoCurve(plan, onsets, Math.Clamp((one.To - one.From) * hop / Math.Max(0.05, plan.Notes[one.Note].Note.Duration.Value), 0.7, 1.45));
        var (first, last) = (Reached(plan, pass.First, -1), Reached(plan, pass.Last, 1));
        var from = Math.Max(limits.From, pass.Start - (int)(((tempo.Between(first, pass.First) * SlowestStart) + Margin) / hop));
        var to = Math.Min(limits.To, pass.End + (int)(((LastLength(plan, tempo, pass.Last, last) * SlowestStart) + Margin) / hop));
        var places = Within(all, from, to);
        var times = Times(pass, tempo, first, last, hop);
        var windows = Enumerable.Range(first, last - first + 1).Select(n => Window(n, times, first, places, hop)).ToArray();
        return (new(first, last, from, to, tempo, windows), places);
    }

    // Not on to a note of the same pitch: the end of the one would be cut off for the other.
    private static int Reached(Plan plan, int note, int step)
    {
        for (var k = 0; k < Beyond; k++)
        {
            var next = note + step;
            if (next < 0 || next >= plan.Notes.Length || plan.Notes[next].Note.Pitch.Midi == plan.Notes[note].Note.Pitch.Midi) break;
            note = next;
        }

        return note;
    }

    private static double LastLength(Plan plan, TempoCurve tempo, int seen, int last) =>
        last == seen ? 0 : tempo.Between(seen, last) + (plan.Notes[last].Note.Duration.Value * tempo.At(last));

    private static Boundary[] Within(Boundary[] all, int from, int to)
    {
        var inside = new List<Boundary> { new(from, 0, true) };
        var i = Array.BinarySearch(all, new Boundary(from + 1, 0, false), Comparer<Boundary>.Create((a, b) => a.Frame.CompareTo(b.Frame)));
        for (i = i < 0 ? ~i : i; i < all.Length && all[i].Frame < to; i++) inside.Add(all[i]);
        inside.Add(new(to, 0, true));
        return [.. inside];
    }

    // When each note should begin: where the tones show it, and by the tempo between and beyond.
    private static double[] Times(Pass pass, TempoCurve tempo, int first, int last, double hop)
    {
        var times = new double[last - first + 1];
        var next = 0;
        for (var n = first; n <= last; n++)
        {
            while (next < pass.Anchors.Count && pass.Anchors[next].Note < n) next++;
            times[n - first] = TimeOf(pass, next, tempo, n, hop);
        }

        return times;
    }

    private static double TimeOf(Pass pass, int next, TempoCurve tempo, int n, double hop)
    {
        var after = next < pass.Anchors.Count ? pass.Anchors[next] : (Anchor?)null;
        if (after is { } here && here.Note == n) return here.From * hop;
        if (next == 0) return (after!.Value.From * hop) - tempo.Between(n, after.Value.Note);
        var before = pass.Anchors[next - 1];
        var ahead = tempo.Between(before.Note, n);
        if (after is not { } a) return (before.From * hop) + ahead;
        var whole = tempo.Between(before.Note, a.Note);
        return (before.From * hop) + ((a.From - before.From) * hop * (whole > 0 ? ahead / whole : 0.5));
    }

    private static (int From, int To) Window(int n, double[] times, int first, Boundary[] places, double hop)
    {
        var i = n - first;
        var early = Math.Min(times[Math.Max(0, i - NotesAround)], times[i] - LeastAround);
        var late = Math.Max(times[Math.Min(times.Length - 1, i + NotesAround)], times[i] + LeastAround);
        return (Index(places, early / hop), Index(places, late / hop) + 1);
    }

    // The first boundary at or after a frame; the last one where there is none.
    private static int Index(Boundary[] places, double frame)
    {
        var (low, high) = (0, places.Length - 1);
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (places[middle].Frame < frame) low = middle + 1;
            else high = middle;
        }

        return low;
    }
}
