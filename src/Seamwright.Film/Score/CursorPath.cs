using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;
using Seamwright.Engraving.Layout;

namespace Seamwright.Film.Score;

/// <summary>Where the cursor must be at a time.</summary>
/// <param name="Time">Film time in seconds.</param>
/// <param name="X">In the system's own units.</param>
public readonly record struct CursorPoint(double Time, double X);

/// <summary>Where the air is parted on the way.</summary>
/// <param name="X">In the system's own units: the head of the note that begins anew.</param>
/// <param name="Kind"><see cref="ChangeKind.Breath"/> or <see cref="ChangeKind.Tongued"/>.</param>
public readonly record struct Seam(double X, ChangeKind Kind);

/// <summary>One run of the cursor along a system, never back.</summary>
public sealed record SystemVisit
{
    /// <summary>Of the systems, from 0.</summary>
    public required int System { get; init; }

    /// <summary>Upper (0) or lower (1) place on the screen.</summary>
    public required int Slot { get; init; }

    public required double Start { get; init; }

    /// <summary>When the cursor has reached the right end.</summary>
    public required double End { get; init; }

    /// <summary>Ascending in time and place; at least one.</summary>
    public required ImmutableArray<CursorPoint> Points { get; init; }

    /// <summary>Where the air is parted, from left to right.</summary>
    public required ImmutableArray<Seam> Seams { get; init; }

    /// <summary>Where the cursor is, by straight lines from point to point.</summary>
    public double CursorAt(double time)
    {
        var i = Points.Length - 1;
        while (i > 0 && Points[i].Time > time) i--;
        if (i == Points.Length - 1 || time <= Points[i].Time) return Points[i].X;
        var (a, b) = (Points[i], Points[i + 1]);
        return a.X + ((b.X - a.X) * (time - a.Time) / (b.Time - a.Time));
    }
}

/// <summary>Lays a plan's times onto the engraved systems.</summary>
internal sealed class CursorPath
{
    // A bar that begins with a rest: the cursor enters it here, as a share of its width.
    private const double BarEntry = 0.12;
    private readonly ImmutableArray<SystemPlaces> systems;
    private readonly Dictionary<string, (int System, double X)> heads = new(StringComparer.Ordinal);
    private readonly Dictionary<int, (int System, BarPlace Place)> bars = [];
    private readonly Dictionary<string, Beats> lengths;

    private CursorPath(Part part, ImmutableArray<SystemPlaces> systems)
    {
        this.systems = systems;
        lengths = part.Notes.DistinctBy(n => n.Id).ToDictionary(n => n.Id, n => n.Duration, StringComparer.Ordinal);
        for (var i = 0; i < systems.Length; i++)
        {
            foreach (var (id, box) in systems[i].Heads) heads.TryAdd(id, (i, box.CentreX));
            foreach (var bar in systems[i].Bars) bars.TryAdd(bar.Index, (i, bar));
        }
    }

    /// <summary>All visits of all passages, in time.</summary>
    public static ImmutableArray<SystemVisit> Of(Part part, ImmutableArray<SystemPlaces> systems, ImmutableArray<SoundingPassage> passages)
    {
        var path = new CursorPath(part, systems);
        var visits = new List<SystemVisit>();
        foreach (var passage in passages) path.Add(passage, visits);
        return [.. visits];
    }

    private sealed record Anchor(double Time, int System, double X, ChangeKind? Parted);

    private void Add(SoundingPassage passage, List<SystemVisit> visits)
    {
        var runs = Runs(Anchors(passage));
        for (var i = 0; i < runs.Count; i++)
        {
            var end = i + 1 < runs.Count ? runs[i + 1][0].Time : Math.Max(passage.End.Value, runs[i][^1].Time);
            visits.Add(VisitOf(runs[i], end, visits.Count == 0 ? null : visits[^1]));
        }
    }

    private SystemVisit VisitOf(List<Anchor> run, double end, SystemVisit? before)
    {
        var system = run[0].System;
        var points = run.Select(a => new CursorPoint(a.Time, a.X)).ToList();
        if (end > points[^1].Time) points.Add(new(end, Math.Max(points[^1].X, RightOf(system, points[^1].X))));
        return new SystemVisit
        {
            System = system,
            Slot = before is null ? 0 : before.System == system ? before.Slot : 1 - before.Slot,
            Start = run[0].Time,
            End = end,
            Points = [.. points],
            Seams = [.. run.Where(a => a.Parted is not null).Select(a => new Seam(a.X, a.Parted!.Value))],
        };
    }

    // The right end of the bar in which a place lies.
    private double RightOf(int system, double x) =>
        systems[system].Bars.Where(b => b.Left <= x && x <= b.Right).Select(b => (double?)b.Right).FirstOrDefault() ?? systems[system].Staff.Right;

    /// <summary>Cut where the cursor must go to another system, or back.</summary>
    private static List<List<Anchor>> Runs(IEnumerable<Anchor> anchors)
    {
        var runs = new List<List<Anchor>>();
        foreach (var anchor in anchors)
        {
            if (runs.Count > 0 && runs[^1][^1] is var last && last.System == anchor.System && last.X < anchor.X)
            {
                if (anchor.Time > last.Time) runs[^1].Add(anchor);
                continue;
            }

            runs.Add([anchor]);
        }

        return runs;
    }

    private List<Anchor> Anchors(SoundingPassage passage)
    {
        var anchors = passage.Notes.SelectMany(n => HeadsOf(passage, n)).ToList();
        if (anchors.Count == 0) return anchors;
        anchors.AddRange(BarsOf(passage, anchors));
        return [.. anchors.OrderBy(a => a.Time)];
    }

    // A tied note has several heads: each is reached at its own written time.
    private IEnumerable<Anchor> HeadsOf(SoundingPassage passage, PlannedNote planned)
    {
        var note = planned.Note;
        var before = note.Index > passage.FirstNote ? passage.Plan.Changes[note.Index - 1].Kind : (ChangeKind?)null;
        var place = note.Start;
        for (var i = 0; i < note.NoteIds.Length; i++)
        {
            var id = note.NoteIds[i];
            var time = i == 0 ? note.StartTime : passage.Plan.Line.Tempo.At(place);
            if (heads.TryGetValue(id, out var head)) yield return new(passage.At(time).Value, head.System, head.X, i == 0 && before is ChangeKind.Breath or ChangeKind.Tongued ? before : null);
            place += lengths.GetValueOrDefault(id, Beats.Zero);
        }
    }

    // Bars that begin with a rest have no head to lead the cursor into them.
    private IEnumerable<Anchor> BarsOf(SoundingPassage passage, List<Anchor> ofNotes)
    {
        const double Instant = 1e-3;
        foreach (var bar in passage.Plan.Line.Bars.Where(b => bars.ContainsKey(b.Index)))
        {
            var time = passage.At(passage.Plan.Line.Tempo.At(bar.Start)).Value;
            var until = passage.At(passage.Plan.Line.Tempo.At(bar.Start + bar.Length)).Value;
            if (time < ofNotes[0].Time || time > passage.End.Value || ofNotes.Exists(a => Math.Abs(a.Time - time) < Instant)) continue;
            var (system, place) = bars[bar.Index];
            var x = place.Left + (BarEntry * (place.Right - place.Left));
            var next = ofNotes.Find(a => a.Time > time);
            if (next is not null && next.Time < until && next.System == system && next.X <= x) continue;
            yield return new(time, system, x, null);
        }
    }
}
