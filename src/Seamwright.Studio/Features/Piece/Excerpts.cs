using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Studio.Features.Piece;

/// <summary>Cuts a few notes out of a plan, so that they can be heard by themselves.</summary>
internal static class Excerpts
{
    /// <summary>The two notes of a change with up to one before and one after, in the plan's own tempo and settings.</summary>
    /// <param name="plan">The whole.</param>
    /// <param name="change">Index of the change.</param>
    /// <returns>The excerpt, and the change's index in it.</returns>
    public static (Plan Plan, int Change) Around(Plan plan, int change)
    {
        var first = change > 0 && plan.Changes[change - 1].Kind != ChangeKind.Breath ? change - 1 : change;
        var last = change + 1 < plan.Changes.Length && plan.Changes[change + 1].Kind != ChangeKind.Breath ? change + 2 : change + 1;
        return (Cut(plan, first, last), change - first);
    }

    private static Plan Cut(Plan plan, int first, int last)
    {
        var from = plan.Notes[first].Note.StartTime;
        var notes = plan.Notes.Skip(first).Take(last - first + 1).Select((n, i) => n with { Note = n.Note with { Index = i, StartTime = n.Note.StartTime - from } }).ToList();
        return plan with
        {
            Line = plan.Line with { Notes = [.. notes.Select(n => n.Note)], Tempo = new TempoMap([new TempoMark(Beats.Zero, plan.Line.Tempo.Marks[0].QuartersPerMinute)]) },
            Notes = [.. notes],
            Changes = [.. plan.Changes.Skip(first).Take(last - first).Select((c, i) => c with { Index = i, FromNote = i, ToNote = i + 1 })],
        };
    }
}
