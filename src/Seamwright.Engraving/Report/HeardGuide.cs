using System.Collections.Immutable;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Diagnosis.Page;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Engraving.Guidance;

namespace Seamwright.Engraving.Report;

/// <summary>Lays what was heard back onto the sheet's own notes.</summary>
internal static class HeardGuide
{
    /// <summary>Positions above as on the sheet; what was heard below, what a repeat did in brackets.</summary>
    public static ImmutableDictionary<string, NoteGuide> Of(Part part, Plan plan, ReportText report)
    {
        var guides = PlanGuide.Of(part, plan, new SheetOptions { ShowChanges = false }).ToBuilder();
        foreach (var note in report.Marks.GroupBy(m => m.NoteId, StringComparer.Ordinal))
            guides[note.Key] = guides.GetValueOrDefault(note.Key, NoteGuide.Empty) with { Heard = [.. Under(note)] };
        return guides.ToImmutable();
    }

    // One ring is enough for any number of clean passes, and none is needed beside a fault.
    private static IEnumerable<HeardMark> Under(IEnumerable<PlacedMark> marks)
    {
        var all = marks.OrderBy(m => m.Pass).ToList();
        var told = all.Where(m => m.Verdict != Verdict.Clean).ToList();
        return told.Count > 0 ? told.Select(m => new HeardMark(m.Verdict, Word(m))) : all.Take(1).Select(m => new HeardMark(m.Verdict, m.Word));
    }

    private static string Word(PlacedMark mark)
    {
        var word = mark.Number is { } n ? $"{n} {mark.Word}" : mark.Word;
        return mark.Pass > 1 ? $"[{word}]" : word;
    }
}
