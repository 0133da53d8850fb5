using System.Collections.Immutable;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>How many changes of a pass could not be judged, and why most of them.</summary>
/// <param name="Open">Changes of which nothing more is known than that something is open.</param>
/// <param name="Of">Changes within what was played.</param>
/// <param name="Reason">The most frequent reason; null where none is open.</param>
/// <param name="ForIt">How many are open for that reason.</param>
internal sealed record OpenChanges(int Open, int Of, OpenReason? Reason, int ForIt)
{
    // A fifth of the changes: beyond that a take without a fault is no clean one (proposed default).
    private const int Fifth = 5;

    /// <summary>Changes of which something is known.</summary>
    public int Judged => Of - Open;

    /// <summary><c>74 changes</c>, or <c>the 25 of 74 changes that could be judged</c>.</summary>
    public string Judgeable => Open == 0 ? Of == 1 ? "the one change" : $"{Of} changes" : $"the {Judged} of {Of} changes that could be judged";

    /// <summary>Whether so many are open that this must be said before anything else.</summary>
    public bool IsMuch => IsMany(Open, Of);

    /// <summary>Whether so many of some changes or notes are.</summary>
    public static bool IsMany(int open, int of) => open > 0 && Fifth * open >= of;

    /// <summary>Those of the pass that is told.</summary>
    public static OpenChanges In(Take take, ImmutableArray<ChangeJudgement> changes, Plan plan) =>
        Among(plan.Changes.Where(c => Extent.Holds(take, c)).Select(c => changes[c.Index]));

    /// <summary>Those of one pass, of the changes heard in it.</summary>
    public static OpenChanges In(Attempt attempt, AttemptJudgement judged) =>
        Among(judged.Changes.Where(c => attempt.Changes[c.Index].Found));

    /// <summary>For instance: 49 of 74 changes could not be judged, most of them because noise hides the quiet moments: record nearer to
    /// the bell, or where it is quieter. Empty where few are open.</summary>
    public string Sentence => !IsMuch ? "" : $"{Words}, {Share} because {Reason!.Words}: {Reason.Remedy}.";

    /// <summary><c>49 of 74 changes could not be judged</c>.</summary>
    public string Words => (Open == Of, Of) switch
    {
        (true, 1) => "the one change could not be judged",
        (true, _) => $"none of {Of} changes could be judged",
        _ => $"{Open} of {Of} changes could not be judged",
    };

    /// <summary>The same at the head of a text.</summary>
    public string Opening => Sentence is { Length: > 0 } s ? $"{char.ToUpperInvariant(s[0])}{s[1..]} " : "";

    private string Share => (ForIt == Open, Open) switch
    {
        (true, 1) => "and that is",
        (true, _) => "all",
        _ => 2 * ForIt > Open ? "most of them" : $"{ForIt} of them",
    };

    /// <summary>Those among some judged changes.</summary>
    public static OpenChanges Among(IEnumerable<ChangeJudgement> changes)
    {
        var all = changes.ToList();
        var open = all.Where(c => TakeParts.Worst(c.Findings) == Verdict.CannotTell).ToList();
        var most = open.Select(c => c.Findings.First(f => f.Why is not null).Why!)
            .GroupBy(r => r.Words).OrderByDescending(g => g.Count()).FirstOrDefault();
        return new(open.Count, all.Count, most?.First(), most?.Count() ?? 0);
    }
}
