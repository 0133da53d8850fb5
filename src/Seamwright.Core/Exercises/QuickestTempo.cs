using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;

namespace Seamwright.Core.Exercises;

/// <summary>Finds tempos a pupil's arm can keep, slow to fast.</summary>
/// <remarks>The top is what the pupil's level asks (<see cref="Levels.TempoOf"/>) or, where the arm would be too fast for it, the
/// quickest tempo in steps of 4 at which no change needs more than <see cref="Player.FastestArm"/>. It is taken back further while
/// the music would belong to a higher level than the pupil's: to ♩ = 60, and where that helps to 44, in which eighth notes are as slow as
/// the first level's quarter notes. From ♩ = 60 to the top in at most four equal steps.</remarks>
internal static class QuickestTempo
{
    /// <summary>Where practice begins if the arm allows.</summary>
    public const double Slow = 60;

    private const double Calm = 44;
    private const double Slowest = 20;
    private const double Step = 4;

    /// <summary>The quickest tempo for music whose settings are not yet chosen; what the level asks where nothing can be planned.</summary>
    /// <param name="part">Without settings.</param>
    /// <param name="pupil">Whose arm.</param>
    /// <param name="free">Whether a note may come in more places than one.</param>
    /// <returns>20 to 240 quarter notes a minute, and the plan at it; the plan is null where a note cannot be reached.</returns>
    public static (double Top, Plan? Plan) TopOf(Part part, Pupil pupil, bool free = false)
    {
        var top = Levels.TempoOf(pupil.Level);
        while (true)
        {
            var plan = PlanAt(part, pupil, top, free);
            if (plan is null || plan.Notes.Any(n => n.Setting is null)) return (top, null);
            var over = plan.Changes.Select(c => c.PeakSpeed / plan.Player.FastestArm).DefaultIfEmpty(0).Max();
            if (over <= 1 || top <= Slowest) return IsWithin(plan, pupil) || top <= Calm ? (top, plan) : Easier(part, pupil, top, plan, free);
            top = Math.Max(Slowest, Math.Min(top - Step, Step * Math.Ceiling(top / over / Step)));
        }
    }

    // Halves the stretch between a tempo that may be taken and one that is too hard; where even a calm one is too hard, slowness is no help.
    // Slower music may be planned in other settings, whose ways are longer: those must be possible too.
    private static (double Top, Plan? Plan) Easier(Part part, Pupil pupil, double tooHard, Plan hard, bool free)
    {
        var calm = PlanAt(part, pupil, Calm, free)!;
        if (!Suits(calm, pupil)) return tooHard > Slow && PlanAt(part, pupil, Slow, free) is { } slow && IsPossible(slow) ? (Slow, slow) : (tooHard, hard);
        var (low, high) = (0, (int)Math.Ceiling((tooHard - Calm) / Step));
        var best = (Calm, calm);
        while (high - low > 1)
        {
            var middle = (low + high) / 2;
            var plan = PlanAt(part, pupil, Calm + (middle * Step), free)!;
            if (Suits(plan, pupil)) (low, best) = (middle, (Calm + (middle * Step), plan));
            else high = middle;
        }

        return best;
    }

    private static bool Suits(Plan plan, Pupil pupil) => IsPossible(plan) && IsWithin(plan, pupil);

    private static bool IsPossible(Plan plan) => plan.Changes.All(c => c.Plausible);

    /// <summary>Whether planned music is no harder than the pupil's level; what range and places ask no tempo changes.</summary>
    public static bool IsWithin(Plan plan, Pupil pupil) => ExerciseDifficulty.LevelOf(ExerciseDifficulty.Of(plan)) <= pupil.Level;

    /// <summary>Rungs up to a top.</summary>
    public static ImmutableArray<double> UpTo(double top)
    {
        if (top <= Slow) return [top];
        var steps = Math.Clamp((int)Math.Round((top - Slow) / 16), 1, 3);
        return [.. Enumerable.Range(0, steps + 1).Select(i => i == steps ? top : Math.Round((Slow + (i * (top - Slow) / steps)) / Step) * Step).Distinct()];
    }

    /// <summary>Music planned at a tempo, every pitch in one place (<see cref="OnePlace"/>) unless it is free, or null where the settings of the pupil are refused.</summary>
    public static Plan? PlanAt(Part part, Pupil pupil, double tempo, bool free = false)
    {
        var line = Unfolder.Play(part, "", tempo);
        var plan = line.Succeeded ? Planner.Plan(line.Value, pupil.Instrument, pupil.Settings) : null;
        return plan is { Succeeded: true } ? free ? plan.Value : OnePlace.Of(plan.Value, part, pupil, tempo) : null;
    }
}
