using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>Tongue and slide together: two notes on one partial, step by step further apart, between any two positions.</summary>
internal static class TwoNotes
{
    public static readonly ExerciseKind Kind = new(
        "two-notes", "tongue and slide together on two notes of one partial, the way of the slide growing step by step; or two positions through the partials",
        [nameof(ExerciseOrder.Note), nameof(ExerciseOrder.Positions)], Make);

    private const double Slow = 60;
    private const double Fast = 108;

    private static readonly (string Slug, string Words, int Least, int Most)[] Stages =
    [
        ("1-next", "to the next position", 1, 1),
        ("2-further", "two and three positions", 2, 3),
        ("3-far", "four positions and more", 4, 7),
    ];

    private static readonly string[] Ways = ["One position", "Two positions", "Three positions", "Four positions", "Five positions", "Six positions", "Seven positions"];

    private static Outcome<ExerciseSet> Make(ExerciseOrder order, Pupil pupil)
    {
        var drafts = (order.Positions is { } ends ? ThroughPartials(order, pupil, ends.From - 1, ends.To - 1) : FurtherApart(order, pupil)).ToList();
        return drafts.Count == 0
            ? Outcome<ExerciseSet>.Failed("two-notes", "no two notes on one partial fit this pupil's range and reach.", "Choose another starting note, other positions or a higher level.")
            : order.Positions is null ? Drafts.FinishSeries(drafts, pupil) : Drafts.Finish(drafts, pupil);
    }

    /// <summary>On one partial: neighbours first, then further apart, each distance from every position.</summary>
    private static IEnumerable<ExerciseDraft> FurtherApart(ExerciseOrder order, Pupil pupil)
    {
        var partial = PartialOf(order, pupil);
        var notes = OnPartial(pupil, partial);
        foreach (var (slug, words, least, most) in Stages)
        {
            var sections = Enumerable.Range(least, most - least + 1).Select(way => (Heading: Ways[way - 1], Cells: Cells(notes, way))).Where(s => s.Cells.Count > 0).ToList();
            if (sections.Count == 0) continue;
            yield return Draft(order, pupil, $"two-notes-partial-{partial}-{slug}", $"Two notes, {Ordinals.Of(partial)} partial: {words}", sections);
        }
    }

    /// <summary>Two positions on every partial, from low to high.</summary>
    private static IEnumerable<ExerciseDraft> ThroughPartials(ExerciseOrder order, Pupil pupil, int from, int to)
    {
        var partials = order.Note is null ? Enumerable.Range(1, pupil.Instrument.HighestPartial) : [PartialOf(order, pupil)];
        var sections = partials.Select(n => (Partial: n, From: PlacedNote.At(pupil, pupil.Instrument.Open, n, from), To: PlacedNote.At(pupil, pupil.Instrument.Open, n, to)))
            .Where(p => p.From is not null && p.To is not null)
            .Select(p => (Heading: $"{Ordinals.Of(p.Partial)} partial", Cells: new List<(PlacedNote, PlacedNote)> { (p.From!, p.To!) })).ToList();
        if (sections.Count > 0)
            yield return Draft(order, pupil, $"two-notes-{from + 1}-{to + 1}{(order.Note is { } n ? $"-{Placing.Slug(n.Name)}{n.Octave}" : "")}", $"Two notes: {Ordinals.Of(from + 1)} and {Ordinals.Of(to + 1)} position", sections);
    }

    private static ExerciseDraft Draft(ExerciseOrder order, Pupil pupil, string id, string title, List<(string Heading, List<(PlacedNote From, PlacedNote To)> Cells)> sections)
    {
        var isOne = sections.Sum(s => s.Cells.Count) == 1;
        var draft = new ExerciseDraft
        {
            Id = id,
            Kind = Kind.Name,
            Title = title,
            Purpose = "On one partial every move of the slide would smear: the tongue touches in the middle of the move, however long it is.",
            Practice =
            [
                isOne ? "Play the two notes slowly until no smear and no bump is left." : "Play each pair slowly until no smear and no bump is left; then take the next pair.",
                "The arm waits, then moves; the tongue touches while it is under way, neither before nor after.",
                isOne ? "Raise the tempo only when three times in a row are clean." : "Raise the tempo only when the last pair is as clean as the first.",
            ],
            Part = Write(sections),
            Tempos = [Slow],
        };
        return draft.Climb(pupil, order.Tempos, Slow, TempoLadder.For(pupil, Fast));
    }

    // As far out as the pupil's year goes.
    private static List<PlacedNote> OnPartial(Pupil pupil, int partial) =>
        Places.Of(pupil, [.. Enumerable.Range(0, 8).Select(k => PlacedNote.At(pupil, pupil.Instrument.Open, partial, k)).OfType<PlacedNote>()], n => n.Setting);

    private static List<(PlacedNote From, PlacedNote To)> Cells(List<PlacedNote> notes, int way) =>
        [.. notes.SelectMany(a => notes.Where(b => b.Setting.Semitone - a.Setting.Semitone == way).Select(b => (a, b)))];

    // The note's own; else the partial with most positions in the pupil's range, near the fourth.
    private static int PartialOf(ExerciseOrder order, Pupil pupil)
    {
        if (order.Note is { } note && pupil.SettingsFor(note).Where(s => s.Valves.IsEmpty).MinBy(s => s.Semitone) is { } setting) return setting.Partial;
        return Enumerable.Range(2, pupil.Instrument.HighestPartial - 1).MaxBy(n => (OnPartial(pupil, n).Count, -Math.Abs(n - 4)));
    }

    private static Part Write(List<(string Heading, List<(PlacedNote From, PlacedNote To)> Cells)> sections)
    {
        var pen = new ExerciseWriting(new KeySignature(0), Meter.CommonTime);
        foreach (var (heading, cells) in sections)
        {
            pen.Section(heading);
            foreach (var (from, to) in cells)
                pen.Slurred(SlurCells.Spelled([from, to, from, to, from]), Beats.Quarter, (_, _) => ChangeIntent.SoftTongue);
        }

        return pen.Finish();
    }
}
