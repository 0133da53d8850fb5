using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>One interval from every note of a scale: thirds to octaves.</summary>
internal static class BrokenIntervals
{
    public static readonly ExerciseKind Kind = new(
        "intervals", "one interval, thirds to octaves, from every note of a scale",
        [nameof(ExerciseOrder.Keys), nameof(ExerciseOrder.Scale), nameof(ExerciseOrder.Register), nameof(ExerciseOrder.Octaves), nameof(ExerciseOrder.Way), nameof(ExerciseOrder.Interval)], Make);

    // Thirds for two years, then wider ones (proposed default).
    private static readonly ImmutableArray<int> Usual = [3, 3, 4, 4, 5, 6];

    // Fewer pairs than that are no way through a scale (proposed default).
    private const int FewestPairs = 4;

    private static readonly ImmutableArray<string> Names = ["thirds", "fourths", "fifths", "sixths", "sevenths", "octaves"];

    private static Outcome<ExerciseSet> Make(ExerciseOrder order, Pupil pupil)
    {
        var keys = OrderedKeys.Of(order, pupil);
        var size = order.Interval ?? Usual[pupil.Level - 1];
        var few = keys.Where(k => order.Octaves * k.Scale.Count < size - 1).Select(k => k.Scale).Distinct().ToList();
        return few.Count == 0
            ? Drafts.Finish(keys.SelectMany(k => In(order, pupil, k.Tonic, k.Scale, size)), pupil)
            : Outcome<ExerciseSet>.Failed("interval", $"a {few[0].Words} scale of {order.Octaves} octave has too few notes to move through in steps of {size}.", "Order 2 octaves or a smaller interval.");
    }

    private static IEnumerable<ExerciseDraft> In(ExerciseOrder order, Pupil pupil, PitchName tonic, Scale scale, int size)
    {
        var way = order.Way ?? ScaleWay.Both;
        var octaves = order.Octaves ?? (scale.Count - size + 2 >= FewestPairs || (HasPairs(scale, size) && !HasRoom(pupil, tonic, first => Pairs(first, 2))) ? 1 : 2);
        return Placing.Of(order, pupil, tonic, first => Pairs(first, octaves).SelectMany(p => p))
            .Select(p => Draft(order, pupil, scale, p, size, Pairs(p.First, octaves), new ScaleRun(scale, octaves, way, 1).Slug));

        IReadOnlyList<ImmutableArray<Pitch>> Pairs(Pitch first, int octaves) => PairsOf(scale, first, (octaves * scale.Count) - size + 1, size - 1, way);
    }

    private static string From(int pairs) => pairs >= 2 * FewestPairs ? "note after note of the key" : "each note of the key that has room for it";

    // Whether an octave holds two of them.
    private static bool HasPairs(Scale scale, int size) => size - 1 <= scale.Count - 1;

    private static bool HasRoom(Pupil pupil, PitchName tonic, Func<Pitch, IReadOnlyList<ImmutableArray<Pitch>>> pairs) => Placing.All(pupil, tonic, first => pairs(first).SelectMany(p => p)).Count > 0;

    private static List<ImmutableArray<Pitch>> PairsOf(Scale scale, Pitch tonic, int last, int apart, ScaleWay way)
    {
        var up = Enumerable.Range(0, last + 1).Select(i => ImmutableArray.Create(scale.NoteAt(tonic, i), scale.NoteAt(tonic, i + apart)));
        var down = Enumerable.Range(0, last + 1).Reverse().Select(i => ImmutableArray.Create(scale.NoteAt(tonic, i + apart, down: true), scale.NoteAt(tonic, i, down: true)));
        return [.. way == ScaleWay.Down ? [] : up, .. way == ScaleWay.Up ? [] : down];
    }

    private static ExerciseDraft Draft(ExerciseOrder order, Pupil pupil, Scale scale, (Pitch First, string Register) place, int size, IReadOnlyList<ImmutableArray<Pitch>> pairs, string slug)
    {
        // Size counts notes of the scale; only with seven to the octave has it the name of the interval.
        var interval = scale.Count == 7 ? Names[size - 3] : $"steps over {size - 2} {(size == 3 ? "note" : "notes")}";
        var name = scale.NameOn(place.First.Name);
        var study = LegatoStudy.Of(pupil, scale.SignatureOn(place.First.Name)!.Value, Meter.CommonTime, order.Tempos, tempo => [new("", Phrasing.OfCells(pairs, Beats.Quarter, tempo))], free: true);
        return new ExerciseDraft
        {
            Id = $"intervals-{size}-{Placing.Slug(place.First.Name)}-{scale.Name}-{place.Register}{slug}",
            Kind = Kind.Name,
            Title = $"{name} in {interval}",
            Key = name,
            Fifths = scale.FifthsOn(place.First.Name),
            Purpose = pupil.Settings.Player.Policy == TonguePolicy.EveryNote
                ? $"The same distance from {From(pairs.Count)}, each note with the same soft tongue: all should sound alike."
                : $"The same distance from {From(pairs.Count)}: some slur by themselves, some need the tongue, and all should sound alike.",
            Practice =
            [
                "Listen to the second note of each pair: it comes without a bump and is as full as the first.",
                "Breathe where the sheet says, and play through to that place on one stream of air.",
                "If one pair smears, play it alone, slowly, in both directions; then go back to the line.",
            ],
            Part = study.Part,
            Tempos = study.Tempos,
        };
    }
}
