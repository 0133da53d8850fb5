using Seamwright.Core.Planning;

namespace Seamwright.Core.Exercises;

/// <summary>Ways of choosing settings that exercises set against one another.</summary>
internal static class Manner
{
    /// <summary>Natural slurs wherever settings can make them: a smear weighs more than an unusual setting and a reversal, and a valve
    /// is moved only where no partial parts the notes (proposed defaults); no place of a later year where the note has one of the pupil's own.</summary>
    public static PlanSettings Natural(Pupil pupil) => With(Places.Own(pupil), CostWeights.NaturalFirst with { Smear = 4, ValveMove = 2 }, TonguePolicy.WhereItWouldSmear);

    /// <summary>The pupil's own way, but as scales are played: the valve for the notes that are far without it, an alternate where it spares
    /// more than one change (C4, D4, E♭4 in third, fourth, third). Both must earn about twice what they cost in a tune: moving a valve
    /// 2.5 times, holding one twice, an unusual setting 1.7 times (proposed defaults; else an eighth-note scale of F takes G3, C4 and F4 with the valve, which
    /// no chart teaches).</summary>
    public static Pupil InScales(Pupil pupil) => pupil with
    {
        Settings = pupil.Settings with { Weights = pupil.Settings.Weights with { ValveMove = 2.5 * pupil.Settings.Weights.ValveMove, ValveHeld = 2 * pupil.Settings.Weights.ValveHeld, Unusual = 1.7 * pupil.Settings.Weights.Unusual } },
    };

    /// <summary>The chart's positions, soft tongue where it would smear.</summary>
    public static PlanSettings Plain(Pupil pupil) => With(pupil, CostWeights.PlainPositions, TonguePolicy.WhereItWouldSmear);

    /// <summary>The chart's positions, soft tongue on every note.</summary>
    public static PlanSettings PlainTongued(Pupil pupil) => With(pupil, CostWeights.PlainPositions, TonguePolicy.EveryNote);

    private static PlanSettings With(Pupil pupil, CostWeights weights, TonguePolicy policy) =>
        pupil.Settings with { Weights = weights, Locks = [], Player = pupil.Settings.Player with { Policy = policy } };
}

/// <summary>What can be counted in a plan for comparing two of the same music.</summary>
internal static class PlanFigures
{
    /// <summary>Changes that separate by themselves.</summary>
    public static int Natural(this Plan plan) => plan.Changes.Count(c => c.Kind is ChangeKind.NaturalSlur or ChangeKind.ValveSlur);

    /// <summary>Changes that are joined at all.</summary>
    public static int Joined(this Plan plan) => plan.Changes.Count(c => c.Kind is not (ChangeKind.Breath or ChangeKind.Tongued));

    /// <summary>How far the arm goes in all, in cm, moves during breaths left out.</summary>
    public static double Arm(this Plan plan) => plan.Changes.Where(c => c.Kind != ChangeKind.Breath).Sum(c => Math.Abs(c.Travel?.Value ?? 0));
}
