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

    private const double Slow = 60;

    // The slow slide needs its time: no quicker than this share of what the level asks in scales (proposed default): 66 to 108.
    private const double FastShare = 0.75;

    private static readonly (string Heading, ChangeIntent Asked)[] Passes =
    [
        ("First time: slow slide, every smear is wanted", ChangeIntent.SlowSlide),
        ("Second time: fast slide, still no tongue", ChangeIntent.FastSlide),
        ("Third time: fast slide and the soft tongue, no smear left", ChangeIntent.SoftTongue),
    ];

    private static Outcome<ExerciseSet> Make(ExerciseOrder order, Pupil pupil)
    {
        var drafts = new List<ExerciseDraft>();
        foreach (var (tonic, run) in ScaleRun.Ordered(order, pupil, OrderedKeys.Of(order, pupil)))
        {
            drafts.AddRange(Placing.Of(order, pupil, tonic, first => run.From(first).SelectMany(r => r)).Select(p => Draft(order, pupil, run, p.First, p.Register)));
        }

        return Drafts.Finish(drafts, pupil);
    }

    private static ExerciseDraft Draft(ExerciseOrder order, Pupil pupil, ScaleRun run, Pitch tonic, string register)
    {
        var name = run.Scale.NameOn(tonic.Name);
        Part At(ImmutableArray<double> tempos) => Write(pupil, run.Scale.SignatureOn(tonic.Name)!.Value, [.. run.From(tonic).SelectMany(r => Phrasing.OfRun(r, Beats.Quarter, tempos[0]))], tempos);
        var fast = Math.Max(Slow, FastShare * Levels.TempoOf(pupil.Level));
        var draft = new ExerciseDraft
        {
            Id = $"three-passes-{Placing.Slug(tonic.Name)}-{run.Scale.Name}-{register}{run.Slug}",
            Kind = Kind.Name,
            Title = $"{name} in three passes{(run.Degree > 1 ? $", from note {run.Degree} of the scale" : "")}{run.Words}",
            Key = name,
            Fifths = run.Scale.FifthsOn(tonic.Name),
            Purpose = "The slide alone, then the slide in time, then the tongue over it: the air is the same all three times.",
            Practice =
            [
                "First time: move the slide slowly and hear it all the way; the tone never stops.",
                "Second time: wait, then move the slide fast, still without the tongue; the air does not notice.",
                "Third time: the same arm and the same air, and the tongue touches while the arm moves.",
            ],
            Part = At(order.Tempos ?? [Slow, fast]),
            Tempos = [Slow],
        };
        var climbed = draft.Climb(pupil, order.Tempos, Slow, fast);
        return climbed with { Part = At(climbed.Tempos) };
    }

    // All three passes use the same settings, so that only arm and tongue differ. The slide is what is practised: the plain positions
    // of the chart let it be heard, where alternate ones and valves would slur by themselves.
    private static Part Write(Pupil pupil, KeySignature key, ImmutableArray<LegatoPhrase> phrases, ImmutableArray<double> tempos)
    {
        var plain = pupil with { Settings = pupil.Settings with { Weights = CostWeights.PlainPositions } };
        var plan = QuickestTempo.PlanAt(LegatoWriting.Bare(key, Meter.CommonTime, [new("", phrases)]), plain, tempos[^1]);
        var writing = new LegatoWriting(key, Meter.CommonTime, plan);
        foreach (var (heading, asked) in Passes)
        {
            if (heading != Passes[0].Heading) writing.Pause();
            writing.Section(new(heading, phrases), asked, again: true);
        }

        return writing.Finish();
    }
}
