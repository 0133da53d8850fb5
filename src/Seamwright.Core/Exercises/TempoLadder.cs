using System.Collections.Immutable;

namespace Seamwright.Core.Exercises;

/// <summary>Tempos from slow to fast, as far as an arm allows.</summary>
internal static class TempoLadder
{
    /// <summary>Steps of a full ladder (proposed default).</summary>
    public const int Rungs = 4;

    // A ladder that the arm cuts short still begins lower than it ends.
    private const double FirstShare = 0.75;

    private const double Slowest = 30;
    private const double Step = 4;

    /// <summary>Even steps from one tempo to another, whole quarter notes a minute; the lower one alone where they do not differ.</summary>
    /// <param name="slow">Quarter notes a minute.</param>
    /// <param name="fast">Quarter notes a minute.</param>
    public static ImmutableArray<double> Between(double slow, double fast)
    {
        var (low, high) = (Math.Round(Math.Min(slow, fast)), Math.Round(fast));
        return [.. Enumerable.Range(0, Rungs).Select(i => Math.Round(low + (i * (high - low) / (Rungs - 1)))).Distinct()];
    }

    /// <summary>A tempo, but no quicker than what is asked of pupils with that range (<see cref="Levels.TempoOf"/>).</summary>
    public static double For(Pupil pupil, double fast) => Math.Min(fast, Levels.TempoOf(pupil.Level));

    /// <summary>The draft with the tempos ordered, else with a ladder up to the quickest tempo at which no change is too fast for the arm and
    /// the whole belongs to no higher level than the pupil's.</summary>
    /// <param name="draft">Its settings are prescribed.</param>
    /// <param name="pupil">Whose arm.</param>
    /// <param name="ordered">Null for none.</param>
    /// <param name="slow">Where the ladder begins, quarter notes a minute.</param>
    /// <param name="fast">Where it ends if arm and level allow.</param>
    /// <param name="keepsTempo">Whether the end is a tune's own tempo, which is the aim whatever level it belongs to.</param>
    public static ExerciseDraft Climb(this ExerciseDraft draft, Pupil pupil, ImmutableArray<double>? ordered, double slow, double fast, bool keepsTempo = false)
    {
        if (ordered is { } tempos) return draft with { Tempos = tempos };
        var top = fast;
        while (top > Slowest && !IsPossible(draft, pupil, top)) top = Math.Max(Slowest, top - Step);
        if (!keepsTempo) top = Easier(draft, pupil, slow, top);
        return draft with { Tempos = Between(Math.Min(slow, FirstShare * top), top) };
    }

    // No lower than where the ladder begins, and only where that brings it to the pupil's level.
    private static double Easier(ExerciseDraft draft, Pupil pupil, double slow, double top)
    {
        if (slow >= top || IsWithin(draft, pupil, top) || !IsWithin(draft, pupil, slow)) return top;
        var easier = top;
        while (easier > slow && !IsWithin(draft, pupil, easier)) easier = Math.Max(slow, easier - Step);
        return easier;
    }

    private static bool IsWithin(ExerciseDraft draft, Pupil pupil, double tempo) => draft.PlanAt(pupil, tempo) is not { Succeeded: true } plan || QuickestTempo.IsWithin(plan.Value, pupil);

    private static bool IsPossible(ExerciseDraft draft, Pupil pupil, double tempo)
    {
        var plan = draft.PlanAt(pupil, tempo);
        return !plan.Succeeded || plan.Value.Changes.All(c => c.Plausible);
    }
}
