using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>Tells a fault that belongs to one change of the music from one that is a habit.</summary>
/// <remarks>It belongs to a change where at least half of the places that show it are one pair of pitches, there or back (proposed default).
/// A slow slide that is too short and notes out of tune never do: what helps there is no ladder.</remarks>
internal static class OwnChange
{
    private const double Share = 0.5;

    /// <summary>Index of the change that shows it worst; null for a habit.</summary>
    public static int? Of(FaultGroup fault, Plan plan)
    {
        if (fault.Kind is FaultKind.HurriedSlide or FaultKind.Tuning) return null;
        var most = fault.Changes.GroupBy(c => PairOf(plan, c)).MaxBy(g => g.Count());
        return most is not null && most.Count() >= Share * fault.Changes.Length && most.Key.Low != most.Key.High && IsJoined(plan.Changes[most.First()]) ? most.First() : null;
    }

    /// <summary>Its pitches, whichever way it goes.</summary>
    public static (int Low, int High) PairOf(Plan plan, int change)
    {
        var (a, b) = (plan.Notes[plan.Changes[change].FromNote].Note.Pitch.Midi, plan.Notes[plan.Changes[change].ToNote].Note.Pitch.Midi);
        return (Math.Min(a, b), Math.Max(a, b));
    }

    private static bool IsJoined(NoteChange c) => c.Kind is ChangeKind.NaturalSlur or ChangeKind.ValveSlur or ChangeKind.SoftTongue;
}
