using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>A scale three times: slow slide, fast slide, soft tongue.</summary>
internal static class ThreePasses
{
    public static readonly ExerciseKind Kind = new(
        "three-passes", "a scale with a slow slide, then a fast slide, then the soft tongue",
        [nameof(ExerciseOrder.Keys), nameof(ExerciseOrder.Scale), nameof(ExerciseOrder.Register), nameof(ExerciseOrder.Octaves), nameof(ExerciseOrder.Way), nameof(ExerciseOrder.Degree)], Make);

    private static readonly (string Heading, ChangeIntent Asked)[] Passes =
    [
        ("First time: slow slide, every smear is wanted", ChangeIntent.SlowSlide),
        ("Second time: fast slide, still no tongue", ChangeIntent.FastSlide),
        ("Third time: fast slide and the soft tongue, no smear left", ChangeIntent.SoftTongue),
    ];

    private static Outcome<ExerciseSet> Make(ExerciseOrder order, Pupil pupil)
    {
        var scale = Scale.Find(order.Scale ?? "major")!;
        var drafts = new List<ExerciseDraft>();
        foreach (var key in Placing.Keys(order, pupil))
        {
            var run = new ScaleRun(scale, order.Octaves ?? 1, order.Way ?? ScaleWay.Both, order.Degree ?? 1);
            IEnumerable<Pitch> Notes(Pitch tonic) => run.From(tonic).SelectMany(r => r);
            var places = Placing.All(pupil, key.Tonic, Notes);
            drafts.AddRange(Placing.In(order.Register ?? Register.Middle, places, pupil, Notes).Select(p => Draft(order, pupil, scale, run, p.First, p.Register)));
        }

        return Drafts.Finish(drafts, pupil);
    }

    private static ExerciseDraft Draft(ExerciseOrder order, Pupil pupil, Scale scale, ScaleRun run, Pitch tonic, string register)
    {
        var key = $"{tonic.Name.ToDisplay()} {scale.Words}";
        return new ExerciseDraft
        {
            Id = $"three-passes-{Placing.Slug(tonic.Name)}-{scale.Name}-{register}",
            Kind = Kind.Name,
            Title = $"{key} in three passes",
            Key = key,
            Purpose = "The slide alone, then the slide in time, then the tongue over it: the air is the same all three times.",
            Practice =
            [
                "First time: move the slide slowly and hear it all the way; the tone never stops.",
                "Second time: wait, then move the slide fast, still without the tongue; the air does not notice.",
                "Third time: the same arm and the same air, and the tongue touches while the arm moves.",
            ],
            Part = Write(pupil, SignatureOf(scale, tonic), run.From(tonic), order.Tempos ?? [60]),
            Tempos = order.Tempos ?? [60],
        };
    }

    private static KeySignature SignatureOf(Scale scale, Pitch tonic) =>
        scale.Fifths is { } add && tonic.Name.Fifths + add is >= -7 and <= 7 ? new KeySignature(tonic.Name.Fifths + add, scale.Mode) : new KeySignature(0, scale.Mode);

    // All three passes use the settings of the third, so that only arm and tongue differ.
    private static Part Write(Pupil pupil, KeySignature key, IReadOnlyList<IReadOnlyList<Pitch>> runs, ImmutableArray<double> tempos)
    {
        var plan = SettingsOf(pupil, runs, tempos[0]);
        var pen = new ExerciseWriting(key, Meter.CommonTime);
        for (var pass = 0; pass < Passes.Length; pass++)
        {
            pen.Section(Passes[pass].Heading);
            var note = 0;
            foreach (var run in runs) WriteRun(pen, run, plan, ref note, Passes[pass].Asked);
            if (pass + 1 < Passes.Length) pen.Rest(pen.BarLength);
        }

        return pen.Finish();
    }

    private static void WriteRun(ExerciseWriting pen, IReadOnlyList<Pitch> run, Plan? plan, ref int note, ChangeIntent asked)
    {
        Span? first = null, before = null;
        for (var i = 0; i < run.Count; i++, note++)
        {
            var last = i == run.Count - 1;
            var intent = i == 0 ? (ChangeIntent?)null : IntentAt(plan, note, asked);
            var setting = plan?.Notes[note].Setting is { } s ? SettingPattern.Of(s).ToString() : "";
            var span = pen.Note(run[i], last ? pen.LeftInBar : Beats.Quarter, intent, setting, breath: last);
            if (before is not null && intent == ChangeIntent.SlowSlide) pen.Glissando(before, span);
            first ??= span;
            before = span;
        }

        pen.Slur(first!, before!);
    }

    // Where the settings separate by themselves there is nothing to slide or to hide.
    private static ChangeIntent IntentAt(Plan? plan, int note, ChangeIntent asked)
    {
        if (plan is null || plan.Notes[note - 1].Setting is not { } a || plan.Notes[note].Setting is not { } b) return asked;
        var separation = Separations.Between(plan.Notes[note - 1].Note.Pitch, a, plan.Notes[note].Note.Pitch, b);
        return separation.WouldSmear() || (asked == ChangeIntent.SoftTongue && plan.Player.Policy == TonguePolicy.EveryNote) ? asked : ChangeIntent.NaturalSlur;
    }

    // Null where the pupil cannot play it: finishing the draft says why.
    private static Plan? SettingsOf(Pupil pupil, IReadOnlyList<IReadOnlyList<Pitch>> runs, double tempo)
    {
        var pen = new ExerciseWriting(new KeySignature(0), Meter.CommonTime);
        foreach (var run in runs)
        {
            var spans = run.Select((p, i) => pen.Note(p, Beats.Quarter, breath: i == run.Count - 1)).ToList();
            pen.Slur(spans[0], spans[^1]);
        }

        var line = Unfolder.Play(pen.Finish(), "", tempo);
        var plan = line.Succeeded ? Planner.Plan(line.Value, pupil.Instrument, pupil.Settings) : null;
        return plan is { Succeeded: true } ? plan.Value : null;
    }
}
