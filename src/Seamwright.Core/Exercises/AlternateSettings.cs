using System.Globalization;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>The same phrase in the chart's positions and in alternate settings.</summary>
internal static class AlternateSettings
{
    public static readonly ExerciseKind Kind = new(
        "alternates", "the same phrase in standard positions, then in alternate ones that make slurs natural or spare the arm",
        [nameof(ExerciseOrder.Keys), nameof(ExerciseOrder.Tune), nameof(ExerciseOrder.Count)], Make);

    private const int Usual = 3;
    private const double Slow = 60;
    private const double SlowShare = 0.7;
    private const double Fast = 96;

    // What makes an alternate worth a page: a slur more that makes itself, or so much less way for the arm (proposed default, cm).
    private const double WorthWhile = 10;

    private static Outcome<ExerciseSet> Make(ExerciseOrder order, Pupil pupil)
    {
        var tune = order.Tune is { } t ? Passage.Of(t, pupil) : null;
        if (tune is { Succeeded: false }) return Outcome<ExerciseSet>.Failed(tune.Problems);
        if (tune is not null && order.Keys is not null) return Outcome<ExerciseSet>.Failed("keys", "a tune keeps its own key.", "Leave keys out, or transpose the tune first.");
        var compared = tune is not null ? Best(tune.Value.Passages, pupil) : Figures(order, pupil);
        var drafts = compared.OrderByDescending(c => c.Gain).Take(order.Count ?? Usual).Select(c => Draft(order, pupil, c)).ToList();
        return drafts.Count == 0
            ? Outcome<ExerciseSet>.Failed("alternates", "no phrase gains by alternate settings in this pupil's range and reach.", "Choose a higher level, another key, or a tune with larger leaps.")
            : order.Tune is null && order.Keys is null ? Drafts.FinishSeries(drafts, pupil) : Drafts.Finish(drafts, pupil);
    }

    // Of each figure the place where alternates gain most.
    private static IEnumerable<Comparison> Figures(ExerciseOrder order, Pupil pupil)
    {
        var wide = order.Keys is null ? order with { Keys = [.. Enumerable.Range(-5, 12).Select(f => new KeyName(PitchName.OnFifths(f), null))] } : order;
        return Melody.Figures.SelectMany(f => Best(Passage.Of(f, wide with { Register = Register.All }, pupil), pupil).OrderByDescending(c => c.Gain).Take(1));
    }

    private static IEnumerable<Comparison> Best(IEnumerable<Passage> passages, Pupil pupil) => passages
        .Select(p => p.In(pupil, Manner.Plain(pupil), Slow) is { } plain && p.In(pupil, Manner.Natural(pupil), Slow) is { } other ? new Comparison(p, plain, other) : null)
        .OfType<Comparison>().Where(c => c.IsWorthWhile);

    private static ExerciseDraft Draft(ExerciseOrder order, Pupil pupil, Comparison compared)
    {
        var (passage, plain, other) = compared;
        var pen = new ExerciseWriting(passage.Part.Bars[0].Key, passage.Part.Bars[0].Meter);
        pen.Append("Standard positions", Prescribing.Whole(passage.Part, plain, Prescribing.AsPlanned));
        pen.Append("Alternate positions", Prescribing.Whole(passage.Part, other, Prescribing.AsPlanned));
        var draft = new ExerciseDraft
        {
            Id = $"alternates-{passage.Slug}",
            Kind = Kind.Name,
            Title = $"{passage.FullName}: standard and alternate",
            Key = passage.Key,
            Fifths = passage.Key.Length > 0 ? passage.Part.Bars[0].Key.Fifths : null,
            Purpose = $"The same notes in two ways of playing them. {compared.WhatChanges()}",
            Practice =
            [
                "Play the standard line until it is clean, soft tongue where it is marked.",
                "Play the alternate line slowly and match the pitch of every note to the standard one; a tuner or a drone helps.",
                compared.Spared > 0
                    ? "Then play the two in turn: they should sound the same, and the arm should feel quieter in the second."
                    : "Then play the two in turn: they should sound the same; the arm goes as far or further in the second, and the tongue has less to do.",
            ],
            Part = pen.Finish(),
            Tempos = [Slow],
            KeepsSignature = true,
        };
        var fast = passage.Tempo ?? TempoLadder.For(pupil, Fast);
        return draft.Climb(pupil, order.Tempos, Math.Min(Slow, SlowShare * fast), fast, passage.Tempo is not null);
    }

    /// <summary>Two plans of one passage.</summary>
    private sealed record Comparison(Passage Passage, Plan Plain, Plan Other)
    {
        public double Spared => Plain.Arm() - Other.Arm();

        /// <summary>A natural slur more counts as much as 20 cm of slide (proposed default).</summary>
        public double Gain => (20 * (Other.Natural() - Plain.Natural())) + Spared;

        public bool IsWorthWhile => Other.Natural() > Plain.Natural() || (Other.Natural() == Plain.Natural() && Spared >= WorthWhile);

        /// <summary>Which slurs become natural, and what it means for the arm.</summary>
        public string WhatChanges()
        {
            var won = Plain.Changes.Zip(Other.Changes).Where(c => c.First.Kind == ChangeKind.SoftTongue && c.Second.Kind is ChangeKind.NaturalSlur or ChangeKind.ValveSlur)
                .Select(c => $"{Name(c.First.FromNote)} to {Name(c.First.ToNote)}").Distinct().ToList();
            var slurs = won.Count == 0 ? "" : $"In the alternate settings {string.Join(", ", won)} {(won.Count == 1 ? "slurs" : "slur")} without the tongue. ";
            return slurs + (Math.Abs(Spared) < 1 ? "The arm goes about as far in both." : $"The arm goes {Cm(Other.Arm())} cm instead of {Cm(Plain.Arm())}: {Cm(Math.Abs(Spared))} cm {(Spared > 0 ? "are spared" : "more, which is the price")}.");
        }

        private string Name(int note) => Plain.Notes[note].Note.Pitch.ToDisplay();

        private static string Cm(double cm) => cm.ToString("0", CultureInfo.InvariantCulture);
    }
}
