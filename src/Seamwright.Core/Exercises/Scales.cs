using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>A scale in quarter notes, then in eighths on one breath.</summary>
internal static class Scales
{
    public static readonly ExerciseKind Kind = new(
        "scales", "a scale in legato: quarter notes, then eighth notes up and down in one go",
        [nameof(ExerciseOrder.Keys), nameof(ExerciseOrder.Scale), nameof(ExerciseOrder.Register), nameof(ExerciseOrder.Octaves), nameof(ExerciseOrder.Way), nameof(ExerciseOrder.Degree)], Make);

    private static Outcome<ExerciseSet> Make(ExerciseOrder order, Pupil pupil) =>
        Drafts.Finish(ScaleRun.Ordered(order, pupil, OrderedKeys.Of(order, pupil)).SelectMany(k => In(order, pupil, k.Tonic, k.Run)), pupil);

    private static IEnumerable<ExerciseDraft> In(ExerciseOrder order, Pupil pupil, PitchName tonic, ScaleRun run) =>
        Placing.Of(order, pupil, tonic, run.InOneGo).Select(p => Draft(order, pupil, run, p.First, p.Register));

    private static ExerciseDraft Draft(ExerciseOrder order, Pupil pupil, ScaleRun run, Pitch tonic, string register)
    {
        var name = run.Scale.NameOn(tonic.Name);
        var study = LegatoStudy.Of(pupil, run.Scale.SignatureOn(tonic.Name)!.Value, Meter.CommonTime, order.Tempos, tempo =>
        [
            new("In quarter notes", [.. run.From(tonic).SelectMany(r => Phrasing.OfRun(r, Beats.Quarter, tempo))]),
            new("In eighth notes", Phrasing.OfRun(run.InOneGo(tonic), Beats.Quarter / 2, tempo)),
        ]);
        return new ExerciseDraft
        {
            Id = $"scales-{Placing.Slug(tonic.Name)}-{run.Scale.Name}-{register}{run.Slug}",
            Kind = Kind.Name,
            Title = $"{name} scale{(run.Degree > 1 ? $", from note {run.Degree}" : "")}{run.Words}",
            Key = name,
            Fifths = run.Scale.FifthsOn(tonic.Name),
            Purpose = pupil.Settings.Player.Policy == TonguePolicy.EveryNote
                ? "Every note of the key joined to the next, each with the same soft tongue: one air, one touch, whatever the slide does."
                : "Every note of the key joined to the next: you learn where the slide slurs by itself and where the tongue must help.",
            Practice =
            [
                "Play the long notes full; the short ones are parts of the same tone.",
                pupil.Settings.Player.Policy == TonguePolicy.EveryNote
                    ? "The soft tongue touches on every note, while the arm moves; it is as light where none would be needed."
                    : "Where the sheet marks a soft tongue, touch while the arm moves; where it marks a natural slur, leave the tongue alone.",
                "Go to the next tempo when no change smears, bumps or cracks.",
            ],
            Part = study.Part,
            Tempos = study.Tempos,
        };
    }
}
