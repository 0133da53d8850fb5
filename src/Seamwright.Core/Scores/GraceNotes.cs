using Seamwright.Core.Units;

namespace Seamwright.Core.Scores;

/// <summary>Gives grace notes their time; the rule stands at <see cref="Unfolder"/>.</summary>
internal static class GraceNotes
{
    /// <summary>Changes starts and lengths in place; nothing overlaps afterwards.</summary>
    public static void GiveTime(List<SoundingNote> notes, Beats quick)
    {
        for (var i = 0; i < notes.Count; i++)
        {
            if (!notes[i].IsGrace) continue;
            var first = i;
            while (i + 1 < notes.Count && notes[i + 1].IsGrace && notes[i + 1].Start == notes[first].Start) i++;
            var group = notes.GetRange(first, i - first + 1);
            var before = first > 0 ? notes[first - 1] : null;
            var main = i + 1 < notes.Count && notes[i + 1].Start == notes[first].Start ? notes[i + 1] : null;
            Place(group, before, main, quick);
        }
    }

    private static void Place(List<SoundingNote> group, SoundingNote? before, SoundingNote? main, Beats quick)
    {
        var at = group[0].Start;
        var free = at - (before?.End ?? Beats.Zero);
        var isLong = group.Count == 1 && group[0].First.Grace == Grace.Plain && main is not null;
        var onTheBeat = isLong || (main is not null && free == Beats.Zero && before is null);
        var wanted = group.Select(g => isLong ? g.First.Value.Duration : Min(g.First.Value.Duration, quick)).ToList();
        var room = (onTheBeat ? main!.Length : free > Beats.Zero ? free : before?.Length ?? Beats.Zero) / 2;
        var total = wanted.Aggregate(Beats.Zero, (a, b) => a + b);
        var taken = Min(total, room);
        var start = onTheBeat ? at : at - taken;
        for (var i = 0; i < group.Count; i++)
        {
            // Too little room is shared out evenly.
            group[i].Length = taken == total ? wanted[i] : taken / group.Count;
            group[i].Start = start;
            start += group[i].Length;
        }

        if (onTheBeat) (main!.Start, main.Length) = (main.Start + taken, main.Length - taken);
        else if (free == Beats.Zero && before is not null) before.Length -= taken;
    }

    private static Beats Min(Beats a, Beats b) => a < b ? a : b;
}
