using System.Globalization;
using System.Xml.Linq;
using Seamwright.Core.Scores;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Layout;

/// <summary>Begins the systems of an exercise where no slur is open: a figure that is played in one breath is read in one line.</summary>
/// <remarks>Bars are shared out anew, section by section, at least cost and exactly. A system costs 1, a slur cut in two 1.2, white the square of
/// its share of the line, half of that at a section's end. How wide a bar is follows from the engraver's own lines, which are stretched; so a
/// line may hold up to 1.12 of them, but no section has fewer lines than the engraver gave it.</remarks>
internal static class WholeSlurs
{
    private const double Cut = 1.2, Most = 1.12;

    /// <summary>Bars that should begin the systems instead; null where the engraver's own breaks are as good.</summary>
    /// <param name="pages">As the engraver gave them.</param>
    /// <param name="sections">Bars that begin a section, which are not among the answer: they begin a system anyway.</param>
    /// <param name="inside">Bars at whose beginning a slur is open.</param>
    public static IReadOnlySet<int>? BetterBreaks(IEnumerable<string> pages, IReadOnlyCollection<int> sections, IReadOnlySet<int> inside)
    {
        var systems = pages.SelectMany(p => XElement.Parse(p).Descendants(Print.Ns + "g")).Where(g => g.Attribute("class")?.Value == "system").Select(BarsOf).Where(b => b.Count > 0).ToList();
        if (systems.Count == 0) return null;
        var line = systems.Max(s => s.Sum(b => b.Width));
        var own = systems.Select(s => s[0].Index).Where(s => !sections.Contains(s)).ToHashSet();
        var better = new HashSet<int>();
        foreach (var section in BySection([.. systems.SelectMany(s => s)], sections))
        {
            var (wide, before) = (Starts(section, line * Most, line, inside), section.Count(b => own.Contains(b.Index)));
            better.UnionWith(wide.Count >= before ? wide : Starts(section, line, line, inside));
        }

        return better.SetEquals(own) ? null : better;
    }

    /// <summary>Indices of bars that a slur reaches into.</summary>
    public static IReadOnlySet<int> BarsInside(Part part)
    {
        var barOf = part.Bars.SelectMany(b => b.Events.OfType<Note>().Select(n => (n.Id, b.Index))).DistinctBy(n => n.Id).ToDictionary(n => n.Id, n => n.Index);
        return part.Slurs.Where(s => barOf.ContainsKey(s.FromId) && barOf.ContainsKey(s.ToId)).SelectMany(s => Enumerable.Range(barOf[s.FromId] + 1, Math.Max(0, barOf[s.ToId] - barOf[s.FromId]))).ToHashSet();
    }

    private static IEnumerable<List<DrawnBar>> BySection(List<DrawnBar> bars, IReadOnlyCollection<int> sections)
    {
        var from = 0;
        for (var i = 1; i <= bars.Count; i++)
        {
            if (i < bars.Count && !sections.Contains(bars[i].Index)) continue;
            yield return bars[from..i];
            from = i;
        }
    }

    // The first bars of all systems but the first.
    private static List<int> Starts(List<DrawnBar> bars, double most, double line, IReadOnlySet<int> inside)
    {
        var cost = Enumerable.Repeat(double.PositiveInfinity, bars.Count + 1).ToArray();
        var from = new int[bars.Count + 1];
        cost[0] = 0;
        for (var to = 1; to <= bars.Count; to++)
        {
            var width = 0.0;
            for (var start = to - 1; start >= 0; start--)
            {
                width += bars[start].Width / line;
                if (width * line > most + 1 && start < to - 1) break;
                var white = Math.Max(0, 1 - width);
                var here = cost[start] + 1 + (white * white * (to == bars.Count ? 0.5 : 1)) + (start > 0 && inside.Contains(bars[start].Index) ? Cut : 0);
                if (here < cost[to] - 1e-9) (cost[to], from[to]) = (here, start);
            }
        }

        var starts = new List<int>();
        for (var at = from[bars.Count]; at > 0; at = from[at]) starts.Add(bars[at].Index);
        return starts;
    }

    private static List<DrawnBar> BarsOf(XElement system) =>
        [.. system.Elements(Print.Ns + "g").Where(g => g.Attribute("id")?.Value.StartsWith(PlaceId.Bar, StringComparison.Ordinal) == true)
            .Select(g => new DrawnBar(int.Parse(g.Attribute("id")!.Value[PlaceId.Bar.Length..], CultureInfo.InvariantCulture), WidthOf(g)))];

    private static double WidthOf(XElement bar) =>
        bar.Elements(Print.Ns + "g").Where(g => g.Attribute("class")?.Value == "staff").Elements(Print.Ns + "path").Select(p => PathData.Read(p.Attribute("d")!.Value)).Select(s => s.Count == 0 ? 0 : s.Max(x => x.To.X) - s.Min(x => x.From.X)).DefaultIfEmpty(0).Max();

    private readonly record struct DrawnBar(int Index, double Width);
}
