using System.Collections.Immutable;

namespace Seamwright.Core.Exercises;

/// <summary>Makes exercises to order.</summary>
public static class ExerciseMaker
{
    /// <summary>Every kind, in the order of a course.</summary>
    public static ImmutableArray<ExerciseKind> Kinds { get; } =
    [
        OneNote.Kind,
        ThreePasses.Kind,
        TwoNotes.Kind,
        SlideThenTongue.Kind,
        LipSlurs.Kind,
        ContraryMotion.Kind,
        BothWays.Kind,
        AlternateSettings.Kind,
        ValveSlurs.Kind,
        ValveOrArm.Kind,
        FromTune.Kind,
        Scales.Kind,
        Arpeggios.Kind,
        BrokenIntervals.Kind,
        Patterns.Kind,
        HornAndEar.Kind,
    ];

    /// <summary>One kind by name, or null.</summary>
    public static ExerciseKind? Find(string name) => Kinds.FirstOrDefault(k => k.Name == name);

    /// <summary>Makes what was ordered, from the easiest up.</summary>
    /// <returns>At least one exercise, all playable by the pupil in every tempo; or every reason why there is none.</returns>
    public static Outcome<ExerciseSet> Make(ExerciseOrder order, Pupil pupil)
    {
        if (Find(order.Kind) is not { } kind)
            return Outcome<ExerciseSet>.Failed("kind", $"'{order.Kind}' is no kind of exercise.", $"There are: {string.Join(", ", Kinds.Select(k => k.Name))}.");
        List<Problem> problems = [.. OrderCheck.Of(order, kind)];
        return problems.Count > 0 ? Outcome<ExerciseSet>.Failed(problems) : kind.Make(order, pupil);
    }
}
