using System.Collections.Immutable;
using Seamwright.Core.Scores;

namespace Seamwright.Engraving.Notation;

/// <summary>Bars that something reaches into from before: there a part cannot be cut without cutting a sign.</summary>
internal static class Crossings
{
    /// <summary>Indices of bars at whose beginning a slur, a glissando, a hairpin or an ending bracket is open.</summary>
    public static ImmutableHashSet<int> Of(Part part)
    {
        var barOf = part.Bars.SelectMany(b => b.Events.OfType<Note>().Select(n => (n.Id, b.Index))).DistinctBy(n => n.Id).ToDictionary(n => n.Id, n => n.Index);
        var spans = part.Slurs.Concat(part.Glissandi).Where(s => barOf.ContainsKey(s.FromId) && barOf.ContainsKey(s.ToId)).Select(s => (From: barOf[s.FromId], To: barOf[s.ToId]))
            .Concat(Hairpin.In(part).Select(h => (From: h.Bar, To: h.EndBar)));
        return [.. spans.SelectMany(s => Enumerable.Range(s.From + 1, Math.Max(0, s.To - s.From))), .. part.Bars.Where(b => !b.Road.Endings.IsEmpty && !b.Road.EndingStarts).Select(b => b.Index)];
    }
}
