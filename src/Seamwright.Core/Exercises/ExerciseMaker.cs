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

    /// <summary>What is wrong with an order whoever plays: members that its kind does not use, figures out of their range, music that is missing.</summary>
    /// <param name="order">Of any kind.</param>
    /// <returns>An error each; where it stands is named by the member, in small letters.</returns>
    public static ImmutableArray<Problem> Check(ExerciseOrder order) => Find(order.Kind) is { } kind
        ? [.. OrderCheck.Of(order, kind), .. kind.NeedsTune && order.Tune is null ? [OrderCheck.TuneMissing(kind)] : ImmutableArray<Problem>.Empty]
        : [new("kind", $"'{order.Kind}' is no kind of exercise.", $"There are: {string.Join(", ", Kinds.Select(k => k.Name))}.", Severity.Error)];

    /// <summary>Makes what was ordered, from the easiest up. What is ordered is at concert pitch; what is made calls notes as the pupil reads them.</summary>
    /// <returns>At least one exercise, all playable by the pupil in every tempo; or every reason why there is none.</returns>
    public static Outcome<ExerciseSet> Make(ExerciseOrder order, Pupil pupil)
    {
        if (Check(order) is { IsEmpty: false } problems) return Outcome<ExerciseSet>.Failed(problems);
        var kind = Find(order.Kind)!;
        var written = OrderedKeys.Written(order, kind, pupil);
        if (!written.Succeeded) return Outcome<ExerciseSet>.Failed(written.Problems);
        var made = pupil.Naming.While(() => kind.Make(written.Value, pupil));
        if (!made.Succeeded) return made;
        Problem[] missing = !kind.Uses.Contains(nameof(order.Count)) && Missing(written.Value, made.Value, pupil) is { } one ? [one] : [];
        return Outcome<ExerciseSet>.Of(made.Value, [.. written.Problems, .. made.Problems, .. missing]);
    }

    // Keys that lie nowhere in the range make nothing that could be told as left out.
    private static Problem? Missing(ExerciseOrder order, ExerciseSet made, Pupil pupil)
    {
        var missing = (order.Keys ?? []).Where(k => !made.Exercises.Any(e => e.Key.StartsWith($"{pupil.Naming.Of(k.Tonic)} ", StringComparison.Ordinal))).Select(k => k.Tonic.ToDisplay()).ToList();
        return missing.Count == 0 ? null : new($"{(missing.Count == 1 ? "key" : "keys")} {string.Join(", ", missing)}", missing.Count == 1 ? "lies nowhere in this pupil's range and reach, and is left out." : "lie nowhere in this pupil's range and reach, and are left out.", "Choose a wider range, another register or fewer octaves.", Severity.Note);
    }
}
