using Seamwright.Core.Listening;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>How much of the line was played.</summary>
internal static class Extent
{
    /// <summary>Whether the recording is of this line: half of it was found, or half of a stretch of it in a recording that holds no more
    /// tones from elsewhere.</summary>
    public static bool IsKnown(Take take, Plan plan)
    {
        var found = take.Notes.Count(n => n.Found);
        if (plan.Line.FromRecording || 2 * found >= take.Notes.Length) return true;
        if (found == 0) return false;
        var (first, last) = Ends(take);
        var matched = take.Notes.Where(n => n.Onset is not null && n.Offset is not null).Sum(n => (n.Offset!.Value - n.Onset!.Value).Value);
        var elsewhere = take.Unmatched.Where(u => u.Kind == UnmatchedKind.Tones).Sum(u => (u.End - u.Start).Value);
        return 2 * found >= last - first + 1 && matched > elsewhere;
    }

    /// <summary>How many notes were found, and which part of the line where that is not the whole.</summary>
    public static string Words(Take take, Plan plan)
    {
        var (found, asked) = (take.Notes.Count(n => n.Found), take.Notes.Length);
        if (found == asked) return asked == 1 ? "The one note was found." : $"All {asked} notes were found.";
        if (RepeatLeftOut(take, plan)) return $"{found} of {asked} notes were found. The repeat was left out.";
        var (first, last) = Ends(take);
        var said = $"{found} of {asked} notes {(found == 1 ? "was" : "were")} found";
        var wrong = Instead(take, asked - found);
        if (found == 0 || (first == 0 && last == asked - 1)) return $"{said}{wrong}.";
        return $"{said}, from {Place(plan, first)} to {Place(plan, last)}: the take is judged as far as it goes{wrong}.";
    }

    /// <summary>Whether a note lies in the stretch that was played: where it begins and ends, <see cref="Words"/> says. Where nothing was
    /// found, anything may have been played.</summary>
    public static bool Holds(Take take, int note) => take.Played is null || (Ends(take) is var (first, last) && note >= first && note <= last);

    /// <summary>Whether a change was found or lies in that stretch.</summary>
    public static bool Holds(Take take, NoteChange change) => take.Changes[change.Index].Found || (Holds(take, change.FromNote) && Holds(take, change.ToNote));

    // All that is missing is a first time, with the ending that leads back, whose second time was played.
    private static bool RepeatLeftOut(Take take, Plan plan)
    {
        var again = plan.Notes.Where((n, i) => n.Note.Pass > 1 && take.Notes[i].Found && !n.Note.NoteIds.IsDefaultOrEmpty).ToList();
        if (again.Count == 0) return false;
        var ids = again.Select(n => n.Note.NoteIds[0]).ToHashSet();
        var first = plan.Notes.First(n => !n.Note.NoteIds.IsDefaultOrEmpty && ids.Contains(n.Note.NoteIds[0])).Note.Index;
        return take.Notes.Where(n => !n.Found).Select(n => n.Index).SequenceEqual(Enumerable.Range(first, Math.Max(0, again[0].Note.Index - first)));
    }

    // ", and in place of the other 6 others were played".
    private static string Instead(Take take, int missing)
    {
        var wrong = take.Notes.Count(n => n.Instead is not null);
        return wrong switch
        {
            0 => "",
            1 when missing == 1 => ", and in place of the other another was played",
            1 => ", and in place of one of the others another was played",
            _ => $", and in place of {(wrong == missing ? $"the other {wrong}" : $"{wrong} of the others")} other notes were played",
        };
    }

    // A wrong note was played too.
    private static (int First, int Last) Ends(Take take)
    {
        if (take.Played is not var (first, last)) return (0, -1);
        while (first > 0 && take.Notes[first - 1].Instead is not null) first--;
        while (last < take.Notes.Length - 1 && take.Notes[last + 1].Instead is not null) last++;
        return (first, last);
    }

    private static string Place(Plan plan, int note) => TakeParts.BarOf(plan, plan.Notes[note].Note) + TakeParts.PassWords(plan.Notes[note].Note.Pass);
}
