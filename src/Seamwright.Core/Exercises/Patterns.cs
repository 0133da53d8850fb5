using System.Collections.Immutable;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>A figure of scale degrees, repeated from step to step.</summary>
internal static class Patterns
{
    /// <summary>Taken where no pattern is ordered: five notes up and back from every note of the octave; in quarter notes for the first two
    /// years.</summary>
    public static string Usual(Pupil pupil) => pupil.Level <= 2 ? "1 2 3 4 5 4 3 2 up 4 down" : "1:8 2 3 4 5 4 3 2 up 4 down";

    public static readonly ExerciseKind Kind = new(
        "pattern", "a figure of scale degrees, moved through a scale step by step",
        [nameof(ExerciseOrder.Keys), nameof(ExerciseOrder.Scale), nameof(ExerciseOrder.Register), nameof(ExerciseOrder.Pattern)], Make);

    private static readonly Meter ThreeFour = new(3, 4);

    private static Outcome<ExerciseSet> Make(ExerciseOrder order, Pupil pupil)
    {
        var text = order.Pattern ?? Usual(pupil);
        var pattern = DegreePattern.Read(text);
        if (pattern.Succeeded && IsOneNote(pattern.Value))
            return Outcome<ExerciseSet>.Failed("pattern", $"'{text}' stays on one note.", "Give a figure with two different degrees, for instance 1 2 3 1.");
        return pattern.Succeeded
            ? Drafts.Finish(OrderedKeys.Of(order, pupil).SelectMany(k => In(order, pupil, k.Tonic, k.Scale, pattern.Value, text)), pupil)
            : Outcome<ExerciseSet>.Failed(pattern.Problems);
    }

    private static bool IsOneNote(DegreePattern pattern) =>
        pattern.On(Scale.Find("major")!, new Pitch(Step.C, 0, 4)).SelectMany(f => f).Select(n => n.Pitch).OfType<Pitch>().Distinct().Count() < 2;

    private static IEnumerable<ExerciseDraft> In(ExerciseOrder order, Pupil pupil, PitchName tonic, Scale scale, DegreePattern pattern, string text) =>
        Placing.Of(order, pupil, tonic, first => pattern.On(scale, first).SelectMany(f => f).Select(n => n.Pitch).OfType<Pitch>())
            .Select(p => Draft(order, pupil, scale, p, pattern.On(scale, p.First), text));

    private static ExerciseDraft Draft(ExerciseOrder order, Pupil pupil, Scale scale, (Pitch First, string Register) place, IReadOnlyList<ImmutableArray<LegatoNote>> figures, string text)
    {
        var name = scale.NameOn(place.First.Name);
        var study = LegatoStudy.Of(pupil, scale.SignatureOn(place.First.Name)!.Value, MeterOf(figures[0]), order.Tempos, tempo => [new("", Breaths(figures, tempo))], scale: figures.SelectMany(f => f).Select(n => n.Pitch).OfType<Pitch>());
        return new ExerciseDraft
        {
            Id = $"pattern-{Slug(text)}-{Placing.Slug(place.First.Name)}-{scale.Name}-{place.Register}",
            Kind = Kind.Name,
            Title = $"{name}: {DegreePattern.Read(text).Value.ToDisplay()}",
            Key = name,
            Fifths = scale.FifthsOn(place.First.Name),
            Purpose = figures.Count == 1
                ? "One figure in the key: small enough to be heard whole before it is played."
                : "One figure from step to step of the key: what is learned on one step is asked again on the next, with another slide.",
            Practice = figures.Count == 1
                ? ["Say the numbers of the figure first, then sing it, then play it.", "Play it until three times in a row are clean.", "Go to the next tempo when every note sounds like the first."]
                :
                [
                    "Say the numbers of the figure first, then play it from the step it begins on.",
                    "Move it one step at a time; the figure stays the same, the slide does not.",
                    "Go to the next tempo when all steps sound alike.",
                ],
            Part = study.Part,
            Tempos = study.Tempos,
        };
    }

    // As many whole figures as a breath holds.
    private static ImmutableArray<LegatoPhrase> Breaths(IReadOnlyList<ImmutableArray<LegatoNote>> figures, double tempo)
    {
        var phrases = new List<LegatoPhrase>();
        foreach (var figure in figures)
        {
            LegatoPhrase longer = new([.. phrases.Count == 0 ? [] : phrases[^1].Notes, .. figure]);
            if (phrases.Count > 0 && Breath.Holds(longer.Length, tempo)) phrases[^1] = longer;
            else phrases.Add(new(figure));
        }

        return [.. phrases];
    }

    private static Meter MeterOf(ImmutableArray<LegatoNote> figure)
    {
        var quarters = new LegatoPhrase(figure).Length.ToDouble();
        return quarters % 2 != 0 && quarters % 3 == 0 ? ThreeFour : Meter.CommonTime;
    }

    // Letters, digits and hyphens alone, so that it can stand in a file name; long ones are cut.
    private static string Slug(string text)
    {
        var plain = string.Concat(text.ToLowerInvariant().Replace("#", "s", StringComparison.Ordinal).Replace("'", "h", StringComparison.Ordinal).Replace(",", "l", StringComparison.Ordinal)
            .Where(c => char.IsAsciiLetterOrDigit(c) || c == '-'));
        return plain.Length <= 24 ? plain : plain[..24];
    }
}
