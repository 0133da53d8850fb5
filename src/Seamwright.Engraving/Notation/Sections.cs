using Seamwright.Core.Scores;

namespace Seamwright.Engraving.Notation;

/// <summary>Where a part's sections begin: each is engraved as a movement of its own, so that it begins a system and its last one is
/// no wider than its music.</summary>
internal static class Sections
{
    /// <summary>Indices of the bars that begin one, from the first bar on. A section that a slur, tie or line leads into, or that begins
    /// under an ending bracket, goes on from the one before.</summary>
    public static IReadOnlyList<int> Of(Part part)
    {
        var starts = part.Bars.Where(b => b.Section.Length > 0 && b.Index > part.Bars[0].Index).Select(b => b.Index - part.Bars[0].Index).ToList();
        if (starts.Count == 0) return [0];
        var barOf = part.Bars.SelectMany((b, i) => b.Events.OfType<Note>().Select(n => (n.Id, Bar: i))).DistinctBy(n => n.Id).ToDictionary(n => n.Id, n => n.Bar);
        var spans = part.Slurs.Concat(part.Glissandi).Where(s => barOf.ContainsKey(s.FromId) && barOf.ContainsKey(s.ToId)).Select(s => (From: barOf[s.FromId], To: barOf[s.ToId])).ToList();
        return [0, .. starts.Where(s => !spans.Exists(p => p.From < s && p.To >= s) && !IsTiedInto(part, s) && !IsUnderEnding(part.Bars[s]))];
    }

    private static bool IsTiedInto(Part part, int bar) => part.Bars[bar - 1].Events.OfType<Note>().LastOrDefault() is { TieToNext: true };

    private static bool IsUnderEnding(Bar bar) => !bar.Road.Endings.IsEmpty && !bar.Road.EndingStarts;
}
