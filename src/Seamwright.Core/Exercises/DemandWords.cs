using Seamwright.Core.Planning;

namespace Seamwright.Core.Exercises;

/// <summary>What makes an exercise as hard as it is, in a sentence for the sheet.</summary>
internal static class DemandWords
{
    // Above it a slur over a still slide is for quick lips: half of the haste that a lip change allows at most, see ExerciseDifficulty.
    private const double Quick = 0.17;

    /// <summary>The hardest joined change, with its figures.</summary>
    /// <param name="plan">At the quickest tempo; at least one change is joined.</param>
    /// <param name="level">Of the exercise.</param>
    public static string Of(Plan plan, int level)
    {
        var hardest = plan.Hardest.First(c => c.Kind != ChangeKind.Breath);
        var (from, to) = (plan.Notes[hardest.FromNote].Note.Pitch.ToDisplay(), plan.Notes[hardest.ToNote].Note.Pitch.ToDisplay());
        return $"Why it is marked level {level}: {Words(hardest, from, to)}.";
    }

    private static string Words(NoteChange c, string from, string to) => c switch
    {
        { PeakSpeed: > 0, Travel: { } way } => $"from {from} to {to} the slide goes {Math.Abs(way.Value):0} cm and your arm reaches {c.PeakSpeed:0.0} m/s",
        _ when c.TimeAvailable.Value < Quick => $"from {from} to {to} the lips have {1000 * c.TimeAvailable.Value:0} ms",
        _ => $"{from} to {to} is its hardest change",
    };
}
