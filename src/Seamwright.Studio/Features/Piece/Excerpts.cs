using Seamwright.Core.Planning;

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
        return (plan.Excerpt(first, last, plan.Notes[first].Note.StartTime), change - first);
    }
}
