using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>Broken chords in quarter notes, then in eighths.</summary>
internal static class Arpeggios
{
    public static readonly ExerciseKind Kind = new(
        "arpeggios", "a triad or seventh chord, note by note, from any of its notes",
        [nameof(ExerciseOrder.Keys), nameof(ExerciseOrder.Chord), nameof(ExerciseOrder.Register), nameof(ExerciseOrder.Octaves), nameof(ExerciseOrder.Way), nameof(ExerciseOrder.Degree)], Make);

    private static readonly string[] Inversions = ["", ", first inversion", ", second inversion", ", third inversion"];

    private static Outcome<ExerciseSet> Make(ExerciseOrder order, Pupil pupil) =>
        Drafts.Finish(OrderedKeys.Of(order, pupil).SelectMany(k => In(order, pupil, k.Tonic, k.Scale)), pupil);

    private static IEnumerable<ExerciseDraft> In(ExerciseOrder order, Pupil pupil, PitchName root, Scale chord)
    {
        var run = new ScaleRun(chord, order.Octaves ?? 1, order.Way ?? ScaleWay.Both, order.Degree ?? 1);
        return Placing.Of(order, pupil, root, run.InOneGo).Select(p => Draft(order, pupil, run, p.First, p.Register));
    }

    private static ExerciseDraft Draft(ExerciseOrder order, Pupil pupil, ScaleRun run, Pitch root, string register)
    {
        var name = run.Scale.NameOn(root.Name);
        var study = LegatoStudy.Of(pupil, run.Scale.SignatureOn(root.Name)!.Value, Meter.CommonTime, order.Tempos, tempo =>
        [
            new("In quarter notes", Phrasing.OfRun(run.InOneGo(root), Beats.Quarter, tempo)),
            new("In eighth notes", Phrasing.OfRun(run.InOneGo(root), Beats.Quarter / 2, tempo)),
        ]);
        return new ExerciseDraft
        {
            Id = $"arpeggios-{Placing.Slug(root.Name)}-{run.Scale.Name}-{register}{run.Slug}",
            Kind = Kind.Name,
            Title = $"{name}{Inversions[run.Degree - 1]}",
            Key = name,
            Fifths = run.Scale.FifthsOn(root.Name),
            Purpose = "Wide steps on one breath: the lips find the next note, and the slide is there before it sounds.",
            Practice =
            [
                "Sing the notes first, so that you hear each one before you play it.",
                "Keep the air moving through the wide steps; do not push the high notes.",
                "Go to the next tempo when every note speaks at once and nothing smears.",
            ],
            Part = study.Part,
            Tempos = study.Tempos,
        };
    }
}
