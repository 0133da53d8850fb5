using System.Globalization;
using System.Xml.Linq;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Layout;

/// <summary>Sees to it that the last system does not hold a single bar while the one before it is full.</summary>
internal static class Widow
{
    /// <summary>Bars that should begin the systems instead; null where the engraver's own breaks are good.</summary>
    /// <param name="pages">As the engraver gave them.</param>
    public static IReadOnlySet<int>? BetterBreaks(IEnumerable<string> pages)
    {
        var systems = pages.SelectMany(p => XElement.Parse(p).Descendants(Print.Ns + "g"))
            .Where(g => g.Attribute("class")?.Value == "system").Select(BarsOf).Where(b => b.Count > 0).ToList();
        if (systems.Count < 2 || systems[^1].Count > 1 || systems[^2].Count < 3) return null;
        return systems.Skip(1).SkipLast(1).Select(b => b[0]).Append(systems[^2][^1]).ToHashSet();
    }

    private static List<int> BarsOf(XElement system) =>
        [.. system.Elements(Print.Ns + "g").Select(g => g.Attribute("id")?.Value ?? "")
            .Where(id => id.StartsWith(PlaceId.Bar, StringComparison.Ordinal))
            .Select(id => int.Parse(id[PlaceId.Bar.Length..], CultureInfo.InvariantCulture))];
}
