using Seamwright.Core.Planning;
using Seamwright.Core.Scores;

namespace Seamwright.Core.Listening;

/// <summary>A tone that an exercise wants compared: held while the tongue is imagined, or touched all along.</summary>
/// <param name="First">Its first note in the plan.</param>
/// <param name="Last">Its last.</param>
/// <param name="Touched">Whether it is touched; else the tongue is only imagined.</param>
public readonly record struct LongTone(int First, int Last, bool Touched)
{
    /// <summary>Every such tone of a plan, in order.</summary>
    public static IEnumerable<LongTone> Of(Plan plan)
    {
        for (var i = 0; i < plan.Notes.Length; i++)
        {
            var last = LastOf(plan, i, ChangeIntent.TouchedTone);
            var touched = last > i;
            if (!touched && plan.Notes[i].Note.Asked != ChangeIntent.ImaginedTongue) continue;
            if (!touched) last = LastOf(plan, i, ChangeIntent.ImaginedTongue);
            yield return new(i, last, touched);
            i = last;
        }
    }

    // Of the notes that follow on the same pitch, each asked alike.
    private static int LastOf(Plan plan, int first, ChangeIntent asked)
    {
        var last = first;
        while (last < plan.Changes.Length && plan.Changes[last] is { PitchMotion: PitchMotion.Same } c && c.Intent == asked) last++;
        return last;
    }
}
