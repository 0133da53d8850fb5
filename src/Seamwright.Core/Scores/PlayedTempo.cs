using Seamwright.Core.Units;

namespace Seamwright.Core.Scores;

/// <summary>The tempo map of a played passage: its marks in played order, the asked tempo, and fermatas.</summary>
internal static class PlayedTempo
{
    public static TempoMap Of(PlayedPassage passage, double? asked, UnfoldSettings settings, string part, List<Problem> problems)
    {
        var told = FirstTold(passage);
        if (told is null && asked is null)
            problems.Add(new Problem(part, $"The sheet gives no tempo; {settings.DefaultTempo} quarter notes a minute are taken.", "Give a tempo to change that.", Severity.Note));
        var first = told ?? settings.DefaultTempo;
        var factor = (asked ?? first) / first;
        var marks = Marks(passage, first, factor);
        if (marks.RemoveAll(m => m.QuartersPerMinute is < 1 or > 1000) > 0)
            problems.Add(new Problem(part, "At the asked tempo some later tempo lies outside 1 to 1000 quarter notes a minute and is left out.", "Ask for a tempo nearer to the sheet's own."));
        var plain = new TempoMap(marks);
        return new TempoMap(marks, Holds(passage, plain, settings));
    }

    // Of several marks at the first place the last one holds, as everywhere.
    private static double? FirstTold(PlayedPassage passage)
    {
        var told = passage.Tempos.Where(t => t.QuartersPerMinute is not null).ToList();
        return told.Count == 0 ? null : told.FindLast(t => t.At == told[0].At).QuartersPerMinute;
    }

    private static List<TempoMark> Marks(PlayedPassage passage, double first, double factor)
    {
        var marks = new List<TempoMark> { new(Beats.Zero, first * factor) };
        foreach (var (at, tempo) in passage.Tempos)
        {
            // Two marks at one place: the later one holds.
            if (marks[^1].At >= at) marks.RemoveAt(marks.Count - 1);
            marks.Add(new TempoMark(at, (tempo ?? first) * factor));
        }

        return marks;
    }

    private static List<Hold> Holds(PlayedPassage passage, TempoMap plain, UnfoldSettings settings)
    {
        var holds = passage.Notes.Where(n => n.Fermata).Select(n => new Hold(n.End, Extra(n.Start, n.End))).ToList();

        // In the middle of a rest, where no grace note can stand.
        holds.AddRange(passage.HeldRests.Select(r => new Hold(r.Start + (r.Length / 2), Extra(r.Start, r.Start + r.Length))));
        return holds;

        Seconds Extra(Beats from, Beats to) => new(Math.Min(settings.LongestHold.Value, settings.FermataShare * plain.Between(from, to).Value));
    }
}
