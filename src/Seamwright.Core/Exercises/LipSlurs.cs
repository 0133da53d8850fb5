using System.Collections.Immutable;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>Natural slurs over the partials while the slide stays, in every position.</summary>
internal static class LipSlurs
{
    public static readonly ExerciseKind Kind = new(
        "lip-slurs", "natural slurs over the partials with a still slide in every position: neighbours, wider, three in a row, quick",
        [nameof(ExerciseOrder.Register), nameof(ExerciseOrder.Positions), nameof(ExerciseOrder.Valve)], Make);

    private static readonly ImmutableArray<Stage> Stages =
    [
        new("1-neighbours", "neighbouring partials", "The smallest step of the lips comes first.", Partials: 2, Apart: 1, Beats.Quarter, Times: 1, Slow: 60, Fast: 72),
        new("2-wider", "one partial left out", "The leap passes over a partial, and nothing of it may be heard.", Partials: 2, Apart: 2, Beats.Quarter, Times: 1, Slow: 60, Fast: 88),
        new("3-three", "three partials in a row", "The notes follow twice as fast, and the air still goes straight on.", Partials: 3, Apart: 1, Beats.Quarter / 2, Times: 2, Slow: 60, Fast: 120),
        new("4-quick", "three partials, three notes to the beat", "Only quickness is new: the lips do as little as they can.", Partials: 3, Apart: 1, Beats.Quarter / 3, Times: 3, Slow: 66, Fast: 120),
    ];

    // Where most places have one figure, lines of their own would be a quarter full; the positions above the notes say where one is.
    private const double ShortShare = 1.34;

    private static Outcome<ExerciseSet> Make(ExerciseOrder order, Pupil pupil)
    {
        var side = order.Valve is { } name ? HornValves.Find(pupil.Instrument, name) : pupil.Instrument.Open;
        if (side is null) return Outcome<ExerciseSet>.Failed("valve", $"{pupil.Instrument.Id} has no valve '{order.Valve}'.", HornValves.Offers(pupil.Instrument));
        // Unless a place is named: those of the pupil's own year, where there are any.
        var drafts = order.Positions is null && order.Valve is null ? Drafted(own: true) : [];
        if (drafts.Count == 0) drafts = Drafted(own: false);
        return drafts.Count == 0
            ? Outcome<ExerciseSet>.Failed("lip-slurs", "no two partials of one position fit this pupil's range and reach here.", "Choose another register, a higher level or more positions.")
            : Drafts.FinishSeries(drafts, pupil);

        List<ExerciseDraft> Drafted(bool own) => [.. Registers(order.Register ?? Usual(pupil, side)).SelectMany(r => Stages.Select(s => Draft(order, pupil, side, r, s, own))).OfType<ExerciseDraft>()];
    }

    // The middle, unless a beginner's range holds more places of three partials in a row below it.
    private static Register Usual(Pupil pupil, Side side)
    {
        int PlacesIn(Zone zone) => Enumerable.Range(0, 8).Count(k => Figures(pupil, side, zone, Stages[2], k).Count > 0);
        return PlacesIn(Zone.Low) > PlacesIn(Zone.Middle) ? Register.Low : Register.Middle;
    }

    private static IEnumerable<Zone> Registers(Register register) => register switch
    {
        Register.Low => [Zone.Low],
        Register.High => [Zone.High],
        Register.All => [Zone.Low, Zone.Middle, Zone.High],
        _ => [Zone.Middle],
    };

    private static ExerciseDraft? Draft(ExerciseOrder order, Pupil pupil, Side side, Zone zone, Stage stage, bool own)
    {
        var (from, to) = order.Positions is { } p ? (Math.Min(p.From, p.To), Math.Max(p.From, p.To)) : (1, 8);
        var places = Enumerable.Range(from - 1, to - from + 1).Select(k => Figures(pupil, side, zone, stage, k)).Where(f => f.Count > 0 && (!own || Places.LevelOf(f[0][0].Setting) <= pupil.Level)).ToList();
        if (places.Count == 0) return null;
        var draft = new ExerciseDraft
        {
            Id = $"lip-slurs-{HornValves.Slug(side)}-{zone.Name}-{stage.Slug}{(order.Positions is null ? "" : $"-{from}-{to}")}",
            Kind = Kind.Name,
            Title = $"Lip slurs{HornValves.Words(side)}, {zone.Name} register: {stage.Words}{Between(order)}",
            Purpose = $"The slide stays where it is and the partial changes, so every slur separates by itself. {stage.Aim}",
            Practice =
            [
                "No tongue after the first note of a slur, and no push of the air: think a brighter vowel on the way up, a darker one on the way down.",
                "If a note cracks or a wrong partial comes in between, take the slower tempo and hold each note a little longer.",
                places.Count > 1 ? "Keep the slide quite still; take the next position when this one is clean." : "Keep the slide quite still, and do not press for the upper note.",
            ],
            Part = Write(places, stage),
            Tempos = [stage.Slow],
        };
        return draft.Climb(pupil, order.Tempos, stage.Slow, TempoLadder.For(pupil, stage.Fast));
    }

    // Where the teacher named positions.
    private static string Between(ExerciseOrder order) => order.Positions is var (a, b) ? $", {Ordinals.Of(Math.Min(a, b))} to {Ordinals.Of(Math.Max(a, b))} position" : "";

    private static Part Write(List<List<IReadOnlyList<PlacedNote>>> places, Stage stage)
    {
        var pen = new ExerciseWriting(new KeySignature(0), Meter.CommonTime);
        var isShort = places.Count > 2 && places.Sum(p => p.Count) <= ShortShare * places.Count;
        foreach (var figures in places)
        {
            if (!isShort) pen.Section(SlurCells.Place(figures[0][0].Setting));
            foreach (var figure in figures) pen.Slurred(figure, stage.Each, (_, _) => ChangeIntent.NaturalSlur);
        }

        return pen.Finish();
    }

    private static List<IReadOnlyList<PlacedNote>> Figures(Pupil pupil, Side side, Zone zone, Stage stage, int semitone)
    {
        var notes = zone.Partials.Select(n => PlacedNote.At(pupil, side, n, semitone)).OfType<PlacedNote>().ToDictionary(n => n.Setting.Partial);
        var figures = new List<IReadOnlyList<PlacedNote>>();
        foreach (var n in notes.Keys.Order())
        {
            var steps = Enumerable.Range(0, stage.Partials).Select(i => notes.GetValueOrDefault(n + (i * stage.Apart))).OfType<PlacedNote>().ToList();
            if (steps.Count == stage.Partials && steps.Zip(steps.Skip(1)).All(s => s.First.To(s.Second, pupil.Instrument) == Separation.StillSlide)) figures.Add(SlurCells.Spelled(stage.Figure(steps)));
        }

        return figures;
    }

    /// <summary>Which partials a register means; the seventh lies too flat to stand in one place with its neighbours.</summary>
    private sealed record Zone(string Name, ImmutableArray<int> Partials)
    {
        public static readonly Zone Low = new("low", [2, 3, 4]);
        public static readonly Zone Middle = new("middle", [3, 4, 5, 6]);
        public static readonly Zone High = new("high", [6, 8, 9, 10]);
    }

    /// <summary>One step of the course.</summary>
    /// <param name="Slug">For ids.</param>
    /// <param name="Words">For titles.</param>
    /// <param name="Aim">What is new in it, in a sentence.</param>
    /// <param name="Partials">Notes in a figure.</param>
    /// <param name="Apart">Partials from one to the next.</param>
    /// <param name="Each">A note's length.</param>
    /// <param name="Times">How often the figure of four goes round before the last note.</param>
    /// <param name="Slow">First tempo, quarter notes a minute.</param>
    /// <param name="Fast">Last tempo.</param>
    private sealed record Stage(string Slug, string Words, string Aim, int Partials, int Apart, Beats Each, int Times, double Slow, double Fast)
    {
        /// <summary>Up, over and back: <c>a b a b</c> or <c>a b c b</c>, so often, and home.</summary>
        public IReadOnlyList<PlacedNote> Figure(List<PlacedNote> steps)
        {
            PlacedNote[] round = steps.Count == 2 ? [steps[0], steps[1], steps[0], steps[1]] : [steps[0], steps[1], steps[2], steps[1]];
            return [.. Enumerable.Repeat(round, Times).SelectMany(r => r), steps[0]];
        }
    }
}
