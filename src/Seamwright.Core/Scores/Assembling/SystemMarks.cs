namespace Seamwright.Core.Scores.Assembling;

/// <summary>Tempo, chord symbols and the road through the piece hold for everyone, but files often write them in one part only.</summary>
internal static class SystemMarks
{
    // Of one bar; more are not music, and sharing them out would cost their number times the parts.
    private const int MostShared = 64;

    /// <summary>Gives every part the repeats, jumps and tempos that any part has at the same bar, and a part without chord symbols
    /// those of the first part that has some.</summary>
    public static void Share(List<RawPart> parts)
    {
        if (parts.Count < 2) return;
        for (var i = 0; i < parts.Max(p => p.Bars.Count); i++)
        {
            var bars = parts.Where(p => i < p.Bars.Count).Select(p => p.Bars[i]).ToList();
            ShareTempos(bars);
            ShareRoad(bars);
        }

        ShareChords(parts);
    }

    private static void ShareChords(List<RawPart> parts)
    {
        if (parts.Find(HasChords) is not { } source) return;
        foreach (var part in parts.Where(p => !HasChords(p)))
        {
            foreach (var (to, from) in part.Bars.Zip(source.Bars)) to.Chords.AddRange(from.Chords.Take(MostShared));
        }
    }

    private static bool HasChords(RawPart part) => part.Bars.Exists(b => b.Chords.Count > 0);

    private static void ShareTempos(List<RawBar> bars)
    {
        var source = bars.Find(b => b.Tempos.Count > 0);
        foreach (var bar in bars.Where(b => source is not null && b.Tempos.Count == 0)) bar.Tempos.AddRange(source!.Tempos.Take(MostShared));
    }

    private static void ShareRoad(List<RawBar> bars)
    {
        var road = bars.Select(b => b.Road).Aggregate(Joined);
        foreach (var bar in bars) bar.Road = road with { RightBarline = bar.Road.RightBarline };
    }

    private static BarRoad Joined(BarRoad a, BarRoad b) => a with
    {
        RepeatStarts = a.RepeatStarts || b.RepeatStarts,
        RepeatTimes = Math.Max(a.RepeatTimes, b.RepeatTimes),
        Endings = a.Endings.IsEmpty ? b.Endings : a.Endings,
        EndingStarts = a.EndingStarts || (a.Endings.IsEmpty && b.EndingStarts),
        EndingStops = a.EndingStops || (a.Endings.IsEmpty && b.EndingStops),
        Segno = a.Segno || b.Segno,
        Coda = a.Coda || b.Coda,
        Jump = a.Jump != Jump.None ? a.Jump : b.Jump,
        ToCoda = a.ToCoda || b.ToCoda,
        Fine = a.Fine || b.Fine,
    };
}
