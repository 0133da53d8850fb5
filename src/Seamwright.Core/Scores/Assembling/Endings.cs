namespace Seamwright.Core.Scores.Assembling;

/// <summary>Endings of repeats, from where their brackets begin and end to every bar beneath them.</summary>
internal static class Endings
{
    /// <summary>Puts ending numbers on every bar under a bracket and closes what was left open.</summary>
    public static void Close(RawPart part, ProblemLog log)
    {
        IReadOnlyList<int> open = [];
        foreach (var b in part.Bars)
        {
            if (b.Road.EndingStarts)
            {
                if (open.Count > 0) CloseBefore(part, b, log);
                open = b.EndingNumbers;
            }

            if (open.Count > 0) b.Road = b.Road with { Endings = [.. open], EndingStops = b.Road.EndingStops || b.Road.RepeatTimes > 0 || b.Index == part.Bars.Count - 1 };
            else if (b.Road.EndingStops) b.Road = b.Road with { EndingStops = false };
            if (b.Road.EndingStops) open = [];
        }
    }

    private static void CloseBefore(RawPart part, RawBar b, ProblemLog log)
    {
        var before = part.Bars[b.Index - 1];
        before.Road = before.Road with { EndingStops = true };
        log.Note(Places.Of(part.Name, before), "An ending is not closed; it is taken to end before the next one.");
    }
}
