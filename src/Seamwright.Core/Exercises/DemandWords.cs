using Seamwright.Core.Planning;

namespace Seamwright.Core.Exercises;

/// <summary>What makes an exercise as hard as it is, in a sentence for the sheet.</summary>
internal static class DemandWords
{
    // Above it a slur over a still slide is for quick lips: half of the haste that a lip change allows at most, see ExerciseDifficulty.
    private const double Quick = 0.17;

    /// <summary>The hardest joined change with its figures, or the place or the range that asks for the level where no change does.</summary>
    /// <param name="plan">At the quickest tempo.</param>
    /// <param name="level">Of the exercise.</param>
    public static string Of(Plan plan, int level)
    {
        var hardest = plan.Hardest.FirstOrDefault(c => c.Kind != ChangeKind.Breath);
        var words = hardest is not null && ExerciseDifficulty.LevelOf(ExerciseDifficulty.Of(plan)) >= level ? Words(plan, hardest) : Place(plan, level) ?? Range(plan);
        return $"Why it is marked level {level}: {words}.";
    }

    private static string? Place(Plan plan, int level) =>
        plan.Notes.FirstOrDefault(n => n.Setting is { } s && Places.LevelOf(s) >= level) is { } far ? $"{far.Note.Pitch.ToDisplay()} is asked for in {SlurCells.Place(far.Setting!)}" : null;

    private static string Range(Plan plan) => $"it goes from {plan.Notes.MinBy(n => n.Note.Pitch)!.Note.Pitch.ToDisplay()} to {plan.Notes.MaxBy(n => n.Note.Pitch)!.Note.Pitch.ToDisplay()}";

    private static string Words(Plan plan, NoteChange hardest) => Words(hardest, plan.Notes[hardest.FromNote].Note.Pitch.ToDisplay(), plan.Notes[hardest.ToNote].Note.Pitch.ToDisplay());

    private static string Words(NoteChange c, string from, string to) => c switch
    {
        { PeakSpeed: > 0, Travel: { } way } => $"from {from} to {to} the slide goes {Math.Abs(way.Value):0} cm and your arm reaches {c.PeakSpeed:0.0} m/s",
        { Kind: ChangeKind.SoftTongue } when from == to => $"the tongue touches every {1000 * c.TimeAvailable.Value:0} ms",
        _ when c.TimeAvailable.Value < Quick => $"from {from} to {to} the lips have {1000 * c.TimeAvailable.Value:0} ms",
        _ => $"{from} to {to} is its hardest change",
    };
}
