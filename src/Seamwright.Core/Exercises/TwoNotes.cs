using System.Collections.Immutable;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>Tongue and slide together: two notes on one partial, step by step further apart.</summary>
internal static class TwoNotes
{
    public static readonly ExerciseKind Kind = new(
        "two-notes", "tongue and slide together on two notes, the way of the slide growing step by step",
        [nameof(ExerciseOrder.Note), nameof(ExerciseOrder.Positions)], Make);

    private static Outcome<ExerciseSet> Make(ExerciseOrder order, Pupil pupil)
    {
        var cells = Cells(order, pupil);
        if (cells.Count == 0)
        {
            return Outcome<ExerciseSet>.Failed("two-notes", "no two notes on one partial fit this pupil's range and reach.", "Choose another starting note or a further position.");
        }

        var home = cells[0].From;
        var draft = new ExerciseDraft
        {
            Id = $"two-notes-{Placing.Slug(home.Pitch.Name)}{home.Pitch.Octave}{(order.Positions is { } p ? $"-{p.From}-{p.To}" : "")}",
            Kind = Kind.Name,
            Title = $"Two notes, from {home.Pitch.ToDisplay()}",
            Purpose = "On one partial every move of the slide would smear: the tongue touches in the middle of the move, however long it is.",
            Practice =
            [
                "Play each pair slowly until no smear and no bump is left; then take the next pair.",
                "The arm waits, then moves; the tongue touches while it is under way, neither before nor after.",
                "Raise the tempo only when the longest way is as clean as the shortest.",
            ],
            Part = Write(cells),
            Tempos = order.Tempos ?? Ladder(cells, pupil),
        };
        return Drafts.Finish([draft], pupil);
    }

    /// <summary>Pairs from one note outward on its partial, the shortest way first.</summary>
    private static List<(PlacedNote From, PlacedNote To)> Cells(ExerciseOrder order, Pupil pupil)
    {
        var open = pupil.Instrument.Open;
        var partial = PartialOf(order, pupil);
        var byPosition = Enumerable.Range(pupil.Lowest.Midi, Math.Max(0, pupil.Highest.Midi - pupil.Lowest.Midi + 1)).Select(Pitch.FromMidi)
            .SelectMany(p => pupil.SettingsFor(p).Where(s => s.Side.Id == open.Id && s.Partial == partial).Select(s => new PlacedNote(p, s)))
            .GroupBy(n => n.Setting.Semitone + 1).ToDictionary(g => g.Key, g => g.First());
        if (order.Positions is { } ends)
            return byPosition.TryGetValue(ends.From, out var a) && byPosition.TryGetValue(ends.To, out var b) ? [(a, b)] : [];
        var positions = byPosition.Keys.Order().ToList();
        return [.. positions.Skip(1).Select(p => (byPosition[positions[0]], byPosition[p]))];
    }

    private static int PartialOf(ExerciseOrder order, Pupil pupil)
    {
        if (order.Note is { } note && pupil.SettingsFor(note).Where(s => s.Valves.IsEmpty).MinBy(s => s.Semitone) is { } setting) return setting.Partial;
        return Enumerable.Range(2, pupil.Instrument.HighestPartial - 1).MaxBy(n => (Reach(pupil, n), -Math.Abs(n - 4)));
    }

    private static int Reach(Pupil pupil, int partial) => Enumerable.Range(pupil.Lowest.Midi, Math.Max(0, pupil.Highest.Midi - pupil.Lowest.Midi + 1))
        .Count(m => pupil.SettingsFor(Pitch.FromMidi(m)).Any(s => s.Valves.IsEmpty && s.Partial == partial));

    // As fast as the longest way lets the arm be, in four steps.
    private static ImmutableArray<double> Ladder(List<(PlacedNote From, PlacedNote To)> cells, Pupil pupil)
    {
        var longest = cells.Max(c => Math.Abs((c.To.Setting.Travel - c.From.Setting.Travel).Value)) / 100;
        var quickest = pupil.Settings.Player.MoveShare * pupil.Settings.Player.FastestArm * 60 / (1.875 * longest);
        var top = Math.Min(108, 4 * Math.Floor(quickest / 4));
        return top <= 60 ? [Math.Max(30, top)] : [60, .. Enumerable.Range(1, 3).Select(i => Math.Round(60 + (i * (top - 60) / 3.0)))];
    }

    private static Part Write(List<(PlacedNote From, PlacedNote To)> cells)
    {
        var pen = new ExerciseWriting(new KeySignature(0), Meter.CommonTime);
        foreach (var (from, to) in cells)
        {
            PlacedNote[] line = [from, to, from, to, from];
            var spans = line.Select((n, i) => pen.Note(n.Pitch, i == 4 ? Beats.Quarter * 3 : Beats.Quarter, i == 0 ? null : ChangeIntent.SoftTongue, SettingPattern.Of(n.Setting).ToString())).ToList();
            pen.Slur(spans[0], spans[^1]);
            pen.Rest(Beats.Quarter);
        }

        return pen.Finish();
    }

    /// <summary>A pitch in a setting.</summary>
    private sealed record PlacedNote(Pitch Pitch, SlideSetting Setting);
}
