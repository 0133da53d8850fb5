using System.Globalization;
using System.Xml.Linq;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Layout;

/// <summary>Sees to it that no section ends with a system of a single bar while the one before it is full.</summary>
internal static class Widow
{
    /// <summary>Bars that should begin the systems instead; null where the engraver's own breaks are good.</summary>
    /// <param name="pages">As the engraver gave them.</param>
    /// <param name="sections">Bars that begin a section, which are not among the answer: they begin a system anyway.</param>
    public static IReadOnlySet<int>? BetterBreaks(IEnumerable<string> pages, IReadOnlyCollection<int> sections)
    {
        var systems = pages.SelectMany(p => XElement.Parse(p).Descendants(Print.Ns + "g"))
            .Where(g => g.Attribute("class")?.Value == "system").Select(BarsOf).Where(b => b.Count > 0).ToList();
        var starts = systems.Select(b => b[0]).ToList();
        var mended = false;
        for (var i = 1; i < systems.Count; i++)
        {
            var isLast = i + 1 == systems.Count || sections.Contains(starts[i + 1]);
            if (!isLast || sections.Contains(starts[i]) || systems[i].Count > 1 || systems[i - 1].Count < 3) continue;
            starts[i] = systems[i - 1][^1];
            mended = true;
        }

        return mended ? starts.Where(s => !sections.Contains(s)).ToHashSet() : null;
    }

    private static List<int> BarsOf(XElement system) =>
        [.. system.Elements(Print.Ns + "g").Select(g => g.Attribute("id")?.Value ?? "")
            .Where(id => id.StartsWith(PlaceId.Bar, StringComparison.Ordinal))
            .Select(id => int.Parse(id[PlaceId.Bar.Length..], CultureInfo.InvariantCulture))];
}
