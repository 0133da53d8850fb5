using System.Collections.Immutable;
using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;

namespace Seamwright.Core.Diagnosis;

/// <summary>Which exercise helps against a fault: orders, the best first; each later one for where the pupil cannot play the ones before.</summary>
internal static class Remedies
{
    /// <summary>Orders against a group of faults.</summary>
    /// <param name="fault">Which.</param>
    /// <param name="plan">What was asked.</param>
    /// <param name="tune">The music it was heard in; null where it is not at hand.</param>
    public static IEnumerable<ExerciseOrder> Of(FaultGroup fault, Plan plan, Tune? tune) =>
        tune is not null && OwnChange.Of(fault, plan) is { } change ? AgainstKind(fault, plan).Prepend(new() { Kind = "from-tune", Tune = tune, Change = change }) : AgainstKind(fault, plan);

    private static IEnumerable<ExerciseOrder> AgainstKind(FaultGroup fault, Plan plan) => fault.Kind switch
    {
        FaultKind.Smear => [.. Pairs(fault, plan, "two-notes", 2), ScaleOf(fault, plan)],
        FaultKind.Timing => [.. Pairs(fault, plan, "slide-then-tongue", 1), ScaleOf(fault, plan)],
        FaultKind.MissingTouch => [.. Pairs(fault, plan, "slide-then-tongue", 1), .. Tones(fault, plan)],
        FaultKind.HardTongue or FaultKind.Tuning => [.. Tones(fault, plan), new ExerciseOrder { Kind = "one-note" }],
        FaultKind.Partial => [.. Partials(fault, plan), .. Tones(fault, plan)],
        FaultKind.Air when fault.Changes.All(c => plan.Changes[c].Kind == ChangeKind.NaturalSlur) => [.. Partials(fault, plan), ScaleOf(fault, plan)],
        _ => [ScaleOf(fault, plan), new ExerciseOrder { Kind = "three-passes" }],
    };

    // The very notes, where the slide goes between two places on one partial of the open horn; the longest ways count most.
    private static IEnumerable<ExerciseOrder> Pairs(FaultGroup fault, Plan plan, string kind, int least)
    {
        foreach (var c in fault.Changes.Select(i => plan.Changes[i]).Where(c => IsOnePartial(plan, c)).OrderByDescending(c => Math.Abs(c.Travel?.Value ?? 0)))
        {
            var (a, b) = (plan.Notes[c.FromNote], plan.Notes[c.ToNote]);
            var (from, to) = (a.Setting!.Semitone + 1, b.Setting!.Semitone + 1);
            if (from is < 1 or > 7 || to is < 1 or > 7 || Math.Abs(to - from) < least) continue;
            yield return new() { Kind = kind, Note = a.Note.Pitch, Positions = (from, to) };
            yield return new() { Kind = kind, Note = b.Note.Pitch, Positions = (to, from) };
        }
    }

    // A long tone on the note that most of them lead to.
    private static IEnumerable<ExerciseOrder> Tones(FaultGroup fault, Plan plan) =>
        NotesOf(fault, plan).GroupBy(n => plan.Notes[n].Note.Pitch.Midi).OrderByDescending(g => g.Count())
            .Select(g => new ExerciseOrder { Kind = "one-note", Note = plan.Notes[g.First()].Note.Pitch });

    // Over the partials of the positions in which they happened.
    private static IEnumerable<ExerciseOrder> Partials(FaultGroup fault, Plan plan)
    {
        if (ExerciseMaker.Find("lip-slurs") is null) yield break;
        var positions = NotesOf(fault, plan).Select(n => plan.Notes[n].Setting).OfType<SlideSetting>().Where(s => s.Valves.IsEmpty && s.Semitone is >= 0 and < 7).Select(s => s.Semitone + 1).ToList();
        if (positions.Count > 0)
        {
            var (nearest, furthest) = (positions.Min(), positions.Max());
            if (nearest == furthest) (nearest, furthest) = nearest > 1 ? (nearest - 1, furthest) : (1, 2);
            yield return new() { Kind = "lip-slurs", Positions = (nearest, furthest) };
        }

        yield return new() { Kind = "lip-slurs" };
    }

    // The scale of the key that is in force where the worst of them stands.
    private static ExerciseOrder ScaleOf(FaultGroup fault, Plan plan)
    {
        if (plan.Line.Bars.IsDefaultOrEmpty) return new() { Kind = "three-passes" };
        var bar = plan.Notes[plan.Changes[fault.Changes[0]].ToNote].Note.Bar;
        var key = plan.Line.Bars.FirstOrDefault(b => b.Number == bar)?.Key ?? plan.Line.Bars[0].Key;
        return new() { Kind = "three-passes", Keys = [new KeyName(key.Tonic, null)], Scale = key.Mode == KeyMode.Minor ? "natural-minor" : "major" };
    }

    private static ImmutableArray<int> NotesOf(FaultGroup fault, Plan plan) => fault.Notes.IsEmpty ? [.. fault.Changes.Select(c => plan.Changes[c].ToNote)] : fault.Notes;

    private static bool IsOnePartial(Plan plan, NoteChange c) =>
        plan.Notes[c.FromNote].Setting is { Valves.IsEmpty: true } a && plan.Notes[c.ToNote].Setting is { Valves.IsEmpty: true } b && a.Partial == b.Partial && a.Semitone != b.Semitone;
}
