using System.Collections.Immutable;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Listening;

/// <summary>Marks what touches a damaged stretch of the file, so that nobody takes it for playing.</summary>
/// <param name="spans">In order.</param>
internal sealed class DamageMarks(ImmutableArray<DamagedSpan> spans)
{
    // As far as what a change is measured by reaches from its boundary, and as far as a decoder or the ear smears a stretch's edge.
    private const double ReachOfChange = 0.45;
    private const double Edge = 0.05;

    /// <summary>The notes and changes with their marks.</summary>
    /// <param name="plan">What was asked.</param>
    /// <param name="notes">As measured.</param>
    /// <param name="changes">As measured.</param>
    public (ImmutableArray<HeardNote> Notes, ImmutableArray<HeardChange> Changes) Added(Plan plan, ImmutableArray<HeardNote> notes, ImmutableArray<HeardChange> changes)
    {
        if (spans.IsEmpty) return (notes, changes);
        var marked = notes.Select((n, i) => Touches(n, notes, i) ? n with { IsDamaged = true } : n).ToImmutableArray();
        return (marked, [.. changes.Select((c, i) => Touches(plan.Changes[i], marked) ? c with { Doubts = [Doubt.Damage, .. c.Doubts] } : c)]);
    }

    // One that was not found may lie anywhere between those that were; before the first and behind the last it may not have been played.
    private bool Touches(HeardNote note, ImmutableArray<HeardNote> notes, int i)
    {
        if (note is { Onset: { } on, Offset: { } off }) return IsHit(on.Value - Edge, off.Value + Edge);
        var (before, after) = (notes.Take(i).LastOrDefault(n => n.Offset is not null), notes.Skip(i).FirstOrDefault(n => n.Onset is not null));
        return before is not null && after is not null && IsHit(before.Offset!.Value.Value - Edge, after.Onset!.Value.Value + Edge);
    }

    private bool Touches(NoteChange change, ImmutableArray<HeardNote> notes)
    {
        HeardNote from = notes[change.FromNote], to = notes[change.ToNote];
        if (from is not { Onset: { } a, Offset: { } end } || to is not { Onset: { } begin, Offset: { } b }) return from.IsDamaged || to.IsDamaged;
        var boundary = (end.Value + begin.Value) / 2;
        var (first, last) = (
            Math.Max((a.Value + end.Value) / 2, Math.Min(boundary - ReachOfChange, end.Value - Edge)),
            Math.Min((begin.Value + b.Value) / 2, Math.Max(boundary + ReachOfChange, begin.Value + Edge)));

        // Damage may part a note's beginning from the rest of it, and its end then lies before it.
        return IsHit(Math.Min(first, last), Math.Max(first, last));
    }

    private bool IsHit(double from, double to) => spans.Any(s => s.Start.Value < to && s.End.Value > from);
}
