using System.Collections.Immutable;
using Seamwright.Core.Exercises;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>An exercise that answers a fault of a take.</summary>
/// <param name="Fault">Null where the take is clean and the exercise leads on.</param>
/// <param name="Exercise">With its <see cref="Exercise.Reason"/>.</param>
public sealed record NextExercise(FaultGroup? Fault, Exercise Exercise)
{
    /// <summary>Other faults of the same change, which the same exercise answers; their reasons stand behind the first one's.</summary>
    public ImmutableArray<FaultGroup> Also { get; init; } = [];
}

/// <summary>What to practise after a take.</summary>
/// <param name="Chosen">At most three, for the heaviest fault first; empty where nothing was heard well enough to say.</param>
/// <param name="Sentence">Why these, for the pupil.</param>
public sealed record NextWork(ImmutableArray<NextExercise> Chosen, string Sentence);

/// <summary>Turns a diagnosis into the next exercises.</summary>
public static class NextExercises
{
    private const int Most = 3;

    // A take that leaves more changes open than that, for whatever reason, is no clean one (proposed default).
    private const double MostOpen = 1.0 / 3;

    /// <summary>At most three exercises, one for each kind of fault, the heaviest first (<see cref="FaultGroup"/>). A fault that belongs to one
    /// change of the music is answered by that change as a ladder out of the tune (kind <c>from-tune</c>); two faults of one change by one ladder.</summary>
    /// <param name="diagnosis">Of a take.</param>
    /// <param name="plan">What was asked.</param>
    /// <param name="pupil">Whom they are made for.</param>
    /// <param name="later">The same pupil one level on, for a take without fault; null at the last level.</param>
    /// <param name="tune">The part that was played; null where it is not at hand, and no ladder comes out of it.</param>
    /// <returns>The exercises; problems say which fault has none that this pupil can play.</returns>
    public static Outcome<NextWork> Of(Diagnosis diagnosis, Plan plan, Pupil pupil, Pupil? later = null, Tune? tune = null)
    {
        var faults = FaultGroup.Of(diagnosis);
        if (faults.IsEmpty && WrongNotes(diagnosis) is > 0 and var wrong)
            return Outcome<NextWork>.Of(new NextWork([], $"{(wrong == 1 ? "1 wrong note was" : $"{wrong} wrong notes were")} played, and nothing else was to mend in what could be judged: play the notes that are written, and record it again."));
        if (faults.IsEmpty && Unsaid(diagnosis) is { } unsaid) return Outcome<NextWork>.Of(new NextWork([], unsaid));
        var (chosen, problems) = (new List<NextExercise>(), new List<Problem>());
        foreach (var fault in faults)
        {
            if (chosen.FindIndex(c => IsLadder(c.Exercise) && OneChange(c.Fault!, fault, plan)) is >= 0 and var same) chosen[same] = Joined(chosen[same], fault, plan);
            else if (chosen.Count < Most && Answer(fault, plan, pupil, tune, chosen) is { } answer) chosen.Add(answer);
            else if (chosen.Count < Most) problems.Add(new(ReasonWords.Name(fault.Kind), "has no exercise that this pupil's range and reach allow, or that is not among the others.", "Choose a higher level or a wider range.", Severity.Note));
        }

        return chosen.Count == 0 && problems.Count == 0 ? LeadOn.From(plan, pupil, later) : Outcome<NextWork>.Of(new NextWork([.. chosen], ReasonWords.Summary(chosen.Count)), problems);
    }

    private static int WrongNotes(Diagnosis diagnosis) =>
        diagnosis.Notes.Count(n => n.Verdicts.Contains(Verdict.WrongNote)) + diagnosis.Changes.Count(c => c.Verdicts.Contains(Verdict.AddedNote));

    // Null where the take says enough. What was not played is not open for any fault of the recording.
    private static string? Unsaid(Diagnosis diagnosis)
    {
        var heard = OpenChanges.Among(diagnosis.Changes.Where(c => c.Findings.All(f => f.Why != OpenReason.NotFound && f.Why != OpenReason.OtherNote)));
        if (heard.IsMuch) return $"This take does not say enough to choose exercises from: {heard.Sentence}";
        return diagnosis.Changes.Count(c => c.Verdicts.Contains(Verdict.CannotTell)) > MostOpen * diagnosis.Changes.Length
            ? "This take does not say enough to choose exercises from: too many of its notes were not found. See that it is the part that was played, and record it again."
            : null;
    }

    private static NextExercise? Answer(FaultGroup fault, Plan plan, Pupil pupil, Tune? tune, List<NextExercise> chosen)
    {
        var made = Remedies.Of(fault, plan, tune).Select(o => ExerciseMaker.Make(o, pupil)).FirstOrDefault(m => m.Succeeded && m.Value.Exercises.Any(e => IsNew(e, chosen)));
        if (made?.Value.Exercises.First(e => IsNew(e, chosen)) is not { } exercise) return null;
        return new(fault, exercise with { Reason = ReasonWords.Of(fault, plan, IsLadder(exercise), exercise.Kind == LipSlurs.Kind.Name) });
    }

    private static NextExercise Joined(NextExercise first, FaultGroup fault, Plan plan) => first with
    {
        Also = first.Also.Add(fault),
        Exercise = first.Exercise with { Reason = $"{first.Exercise.Reason} {ReasonWords.Of(fault, plan, isLadder: true)}" },
    };

    private static bool IsLadder(Exercise exercise) => exercise.Kind == "from-tune";

    private static bool OneChange(FaultGroup a, FaultGroup b, Plan plan) =>
        OwnChange.Of(a, plan) is { } first && OwnChange.Of(b, plan) is { } second && OwnChange.PairOf(plan, first) == OwnChange.PairOf(plan, second);

    private static bool IsNew(Exercise exercise, IEnumerable<NextExercise> chosen) => chosen.All(c => c.Exercise.Id != exercise.Id);
}
