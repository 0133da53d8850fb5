using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

/// <summary>Notes that may be out of tune while the take stays in tune: few, far from one another, and long enough to be judged.</summary>
/// <remarks>A take's own tuning is told from the middle of its different pitches. So no pitch is taken whose notes would be out in half of
/// their places, unless there are pitches enough for that one: one of every <see cref="PitchesForOne"/> may go. One note of eight, and four
/// notes from one to the next: proposed, so that each has its neighbours in tune to be heard against.</remarks>
internal static class NotesApart
{
    private const int NotesForOne = 8, LeastApart = 4, PitchesForOne = 7;

    // Shorter notes are hard to judge within 10 cents.
    private static readonly Seconds LongEnough = new(0.3);

    /// <summary>The changes that lead to them, ascending; at least one where there is any change.</summary>
    /// <param name="plan">What is played.</param>
    /// <param name="changes">Those to choose from, ascending.</param>
    public static ImmutableArray<int> Of(Plan plan, IReadOnlyList<NoteChange> changes)
    {
        if (changes.Count == 0) return [];
        var wanted = Math.Max(1, plan.Notes.Length / NotesForOne);
        var taken = new List<NoteChange>();
        for (var i = 0; i < wanted; i++)
        {
            // The longest of each stretch that leaves the tuning as it is.
            var (from, to) = (plan.Notes.Length * i / wanted, plan.Notes.Length * (i + 1) / wanted);
            var best = changes.Where(c => c.ToNote >= from && c.ToNote < to && Lasts(plan, c) >= LongEnough && LiesApart(c, taken) && StaysInTune(plan, [.. taken, c]))
                .OrderByDescending(c => Lasts(plan, c).Value).FirstOrDefault();
            if (best is not null) taken.Add(best);
        }

        if (taken.Count == 0) taken.Add(changes.MaxBy(c => Lasts(plan, c).Value)!);
        return [.. taken.Select(c => c.Index)];
    }

    private static Seconds Lasts(Plan plan, NoteChange change) => plan.Notes[change.ToNote].Note.Duration;

    private static bool LiesApart(NoteChange change, List<NoteChange> taken) => taken.TrueForAll(t => change.ToNote - t.ToNote >= LeastApart);

    private static bool StaysInTune(Plan plan, List<NoteChange> taken)
    {
        var places = plan.Notes.CountBy(n => n.Note.Pitch).ToDictionary();
        var gone = taken.CountBy(t => plan.Notes[t.ToNote].Note.Pitch).Count(p => 2 * p.Value >= places[p.Key]);
        return gone <= places.Count / PitchesForOne;
    }
}
