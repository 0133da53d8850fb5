using System.Collections.Immutable;
using Seamwright.Core.Planning;

namespace Seamwright.Film.Score;

/// <summary>A change with the time in which it is lit.</summary>
/// <param name="Change">As planned.</param>
/// <param name="NoteId">Of the sheet note it leads to: its mark stands there.</param>
/// <param name="On">Film time in seconds: before it comes.</param>
/// <param name="At">When its second note begins.</param>
/// <param name="Off">When its light is out.</param>
public sealed record LitChange(NoteChange Change, string NoteId, double On, double At, double Off)
{
    // Early enough to be read, late enough to stay next to its note.
    private const double Before = 0.9, After = 0.3;

    // Of the note before, the share that belongs to the change before it; of the note after, the share this light may take.
    private const double KeptBefore = 0.4, TakenAfter = 0.3;

    /// <summary>All changes of all passages, in time; no two are lit at once.</summary>
    public static ImmutableArray<LitChange> Of(ImmutableArray<SoundingPassage> passages) => [.. passages.SelectMany(Of)];

    private static IEnumerable<LitChange> Of(SoundingPassage passage)
    {
        for (var i = passage.FirstNote; i < passage.LastNote; i++)
        {
            var (a, b) = (passage.Plan.Notes[i].Note, passage.Plan.Notes[i + 1].Note);
            var (start, at) = (passage.At(a.StartTime).Value, passage.At(b.StartTime).Value);
            var on = Math.Max(start + (KeptBefore * (at - start)), at - Before);
            var off = at + Math.Min(After, TakenAfter * (passage.At(b.EndTime).Value - at));
            yield return new(passage.Plan.Changes[i], b.NoteIds.IsDefaultOrEmpty ? "" : b.NoteIds[0], on, at, off);
        }
    }
}
