using System.Globalization;
using System.Xml.Linq;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Layout;

/// <summary>Which bars stand in a system, as the engraver drew it.</summary>
internal static class SystemBars
{
    /// <summary>Their indices in order; a long rest has only the first of its bars.</summary>
    public static List<int> Of(XElement system) =>
        [.. system.Elements(Print.Ns + "g").Select(g => g.Attribute("id")?.Value ?? "")
            .Where(id => id.StartsWith(PlaceId.Bar, StringComparison.Ordinal))
            .Select(id => int.Parse(id[PlaceId.Bar.Length..], CultureInfo.InvariantCulture))];
}
