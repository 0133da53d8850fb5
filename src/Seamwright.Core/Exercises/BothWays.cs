using Seamwright.Core.Planning;


namespace Seamwright.Core.Exercises;

/// <summary>The same melody with natural slurs wherever there are any, and with the soft tongue on every note.</summary>
internal static class BothWays
{
    public static readonly ExerciseKind Kind = new(
        "both-ways", "the same melody once with natural slurs wherever there are any, once with the soft tongue on every note",
        [nameof(ExerciseOrder.Keys), nameof(ExerciseOrder.Register), nameof(ExerciseOrder.Tune), nameof(ExerciseOrder.Count)], Make);

    private const int Usual = 3;
    private const double Slow = 60;
    private const double SlowShare = 0.7;

    private static Outcome<ExerciseSet> Make(ExerciseOrder order, Pupil pupil)
    {
        var passages = Passages(order, pupil);
        if (!passages.Succeeded) return Outcome<ExerciseSet>.Failed(passages.Problems);
        var drafts = passages.Value.Passages.Select(p => Draft(order, pupil, p)).OfType<ExerciseDraft>().Take(order.Count ?? int.MaxValue).ToList();
        return drafts.Count == 0
            ? Outcome<ExerciseSet>.Failed("both-ways", "no melody with a natural slur fits this pupil's range and reach.", "Choose another key or register, or a higher level.")
            : order.Tune is null && order.Keys is null ? Drafts.FinishSeries(drafts, pupil) : Drafts.Finish(drafts, pupil);
    }

    private static Outcome<PassageSet> Passages(ExerciseOrder order, Pupil pupil)
    {
        if (order.Tune is not { } tune) return Outcome<PassageSet>.Of(new PassageSet([.. Melody.Tunes.SelectMany(m => Passage.Of(m, order, pupil))]));
        if (order.Keys is not null || order.Register is not null)
            return Outcome<PassageSet>.Failed("keys", "a tune keeps its own key and register.", "Leave keys and register out, or transpose the tune first.");
        var all = Passage.Of(tune, pupil);
        return all.Succeeded ? Outcome<PassageSet>.Of(new PassageSet([.. all.Value.Passages.Take(order.Count ?? Usual)])) : all;
    }

    private static ExerciseDraft? Draft(ExerciseOrder order, Pupil pupil, Passage passage)
    {
        var natural = passage.In(pupil, Manner.Natural(pupil), Slow);
        var tongued = passage.In(pupil, Manner.PlainTongued(pupil), Slow);
        if (natural is null || tongued is null || natural.Natural() == 0) return null;
        var pen = new ExerciseWriting(passage.Part.Bars[0].Key, passage.Part.Bars[0].Meter);
        pen.Append("First way: natural slurs wherever there are any", Prescribing.Whole(passage.Part, natural, Prescribing.AsPlanned));
        pen.Append("Second way: the soft tongue on every note", Prescribing.Whole(passage.Part, tongued, Prescribing.AsPlanned));
        var draft = new ExerciseDraft
        {
            Id = $"both-ways-{passage.Slug}",
            Kind = Kind.Name,
            Title = $"{passage.FullName}, both ways",
            Key = passage.Key,
            Fifths = passage.Key.Length > 0 ? passage.Part.Bars[0].Key.Fifths : null,
            Purpose = $"The same music twice. The first way {Told(natural)}; the second way every note gets the soft tongue, in plain positions.",
            Practice =
            [
                "First way: use the positions printed and leave the tongue out wherever the mark says the slur makes itself.",
                "Second way: plain positions, the same light touch on every note, also where none is needed.",
                "Record both and listen: nobody should hear which notes were tongued.",
            ],
            Part = pen.Finish(),
            Tempos = [Slow],
            KeepsSignature = true,
        };
        var fast = passage.Tempo ?? Levels.TempoOf(pupil.Level);
        return draft.Climb(pupil, order.Tempos, Math.Min(Slow, SlowShare * fast), fast, passage.Tempo is not null);
    }

    private static string Told(Plan plan) => (plan.Natural(), plan.Joined()) switch
    {
        (var n, var all) when n == all => $"all {all} changes separate by themselves",
        (1, var all) => $"one of {all} changes separates by itself and only the others get the soft tongue",
        (var n, var all) => $"{n} of {all} changes separate by themselves and only the others get the soft tongue",
    };
}
