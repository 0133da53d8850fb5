using Seamwright.Core.Diagnosis;
using Seamwright.Core.Diagnosis.Page;

namespace Seamwright.Studio.Features.Take;

/// <summary>What became of one change from an earlier take to a later one.</summary>
/// <param name="Change">Index in the plan.</param>
/// <param name="Before">Its verdicts then.</param>
/// <param name="After">Its verdicts now.</param>
public sealed record ChangeSince(int Change, IReadOnlyList<Verdict> Before, IReadOnlyList<Verdict> After)
{
    public bool WasToMend => Before.Any(IsToMend);

    public bool IsToMendNow => After.Any(IsToMend);

    private static bool IsToMend(Verdict verdict) => VerdictMarks.Look(verdict) is "fault" or "watch";
}

/// <summary>Two takes of one piece side by side. What could not be told in either is neither better nor worse.</summary>
public sealed record Comparison(HeardTake Before, HeardTake After, IReadOnlyList<ChangeSince> Mended, IReadOnlyList<ChangeSince> Stayed, IReadOnlyList<ChangeSince> Fresh)
{
    /// <summary>To mend then, where the later take cannot be told or was not played.</summary>
    public IReadOnlyList<ChangeSince> Open { get; init; } = [];

    /// <summary>To mend now, where the earlier take could not be told.</summary>
    public IReadOnlyList<ChangeSince> Unknown { get; init; } = [];

    /// <summary>Compares change by change.</summary>
    /// <param name="before">The earlier one.</param>
    /// <param name="after">The later one, of the same plan.</param>
    /// <returns>Null where they were not made from the same notes.</returns>
    public static Comparison? Of(HeardTake before, HeardTake after)
    {
        if (!before.Piece.Plan.Notes.Select(n => n.Note.Pitch).SequenceEqual(after.Piece.Plan.Notes.Select(n => n.Note.Pitch))) return null;
        var all = before.Diagnosis.Changes.Zip(after.Diagnosis.Changes, (a, b) => new ChangeSince(a.Index, [.. a.Verdicts.Distinct()], [.. b.Verdicts.Distinct()])).ToList();
        static bool IsOpen(IReadOnlyList<Verdict> verdicts) => verdicts.Contains(Verdict.CannotTell);
        return new(
            before, after,
            [.. all.Where(c => c.WasToMend && !c.IsToMendNow && !IsOpen(c.After))],
            [.. all.Where(c => c.WasToMend && c.IsToMendNow)],
            [.. all.Where(c => !c.WasToMend && c.IsToMendNow && !IsOpen(c.Before))])
        {
            Open = [.. all.Where(c => c.WasToMend && !c.IsToMendNow && IsOpen(c.After))],
            Unknown = [.. all.Where(c => !c.WasToMend && c.IsToMendNow && IsOpen(c.Before))],
        };
    }
}
