using System.Collections.Immutable;
using Seamwright.Core.Scores;

namespace Seamwright.Engraving.Notation;

/// <summary>Bars that something reaches into from before: there a part cannot be cut without cutting a sign.</summary>
internal static class Crossings
{
    /// <summary>Indices of bars at whose beginning a slur, a glissando, a hairpin or an ending bracket is open.</summary>
    public static ImmutableHashSet<int> Of(Part part) =>
    [
        .. Of(part, part.Slurs.Concat(part.Glissandi)),
        .. Hairpin.In(part).SelectMany(h => Between(h.Bar, h.EndBar)),
        .. part.Bars.Where(b => !b.Road.Endings.IsEmpty && !b.Road.EndingStarts).Select(b => b.Index),
    ];

    /// <summary>Indices of bars that some lines over notes reach into.</summary>
    public static ImmutableHashSet<int> Of(Part part, IEnumerable<Span> spans)
    {
        var barOf = part.Bars.SelectMany(b => b.Events.OfType<Note>().Select(n => (n.Id, b.Index))).DistinctBy(n => n.Id).ToDictionary(n => n.Id, n => n.Index);
        return [.. spans.Where(s => barOf.ContainsKey(s.FromId) && barOf.ContainsKey(s.ToId)).SelectMany(s => Between(barOf[s.FromId], barOf[s.ToId]))];
    }

    private static IEnumerable<int> Between(int from, int to) => Enumerable.Range(from + 1, Math.Max(0, to - from));
}
