using System.Globalization;
using System.Xml.Linq;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Layout;

/// <summary>Systems as the engraver drew them, and which bars stand in each.</summary>
internal static class SystemBars
{
    /// <summary>Every system of some pages, in order.</summary>
    public static IEnumerable<XElement> SystemsOf(IEnumerable<string> pages) =>
        pages.SelectMany(p => XElement.Parse(p).Descendants(Print.Ns + "g")).Where(g => g.Attribute("class")?.Value == "system");

    /// <summary>Their indices in order; a long rest has only the first of its bars.</summary>
    public static List<int> Of(XElement system) =>
        [.. system.Elements(Print.Ns + "g").Select(g => g.Attribute("id")?.Value ?? "")
            .Where(id => id.StartsWith(PlaceId.Bar, StringComparison.Ordinal))
            .Select(id => int.Parse(id[PlaceId.Bar.Length..], CultureInfo.InvariantCulture))];
}
