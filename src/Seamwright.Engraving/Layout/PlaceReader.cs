using System.Collections.Immutable;
using System.Globalization;
using System.Xml.Linq;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Layout;

/// <summary>Reads off a dressed system where its bars, heads and marks stand.</summary>
internal static class PlaceReader
{
    /// <summary>Reads one system.</summary>
    /// <param name="system">With its rows around it.</param>
    /// <param name="all">Its whole ink.</param>
    /// <param name="ink">Knows the music font's shapes.</param>
    public static SystemPlaces Read(XElement system, Box all, InkReader ink)
    {
        var groups = system.Descendants(Print.Ns + "g").ToList();
        var staves = groups.Where(g => Class(g) == "measure").Select(g => (Id: Id(g), Box: StaffLines(g, ink))).Where(s => s.Box is not null).ToList();
        return new SystemPlaces
        {
            Ink = all,
            Staff = Box.Around([.. staves.Select(s => s.Box!.Value)]) ?? all,
            Bars = [.. staves.Where(s => s.Id.StartsWith(PlaceId.Bar, StringComparison.Ordinal)).Select(s => new BarPlace(BarIndex(s.Id), s.Box!.Value.Left, s.Box.Value.Right))],
            Heads = ById(groups.Where(g => Class(g) == "notehead" && Class(g.Parent!) == "note"), h => Id(h.Parent!), ink),
            Marks = ById(groups.Where(g => Class(g) == "mark"), m => Id(m)[PlaceId.Mark.Length..], ink),
        };
    }

    private static ImmutableDictionary<string, Box> ById(IEnumerable<XElement> groups, Func<XElement, string> id, InkReader ink) => groups
        .Select(g => (Id: id(g), Box: Box.Around(ink.Of(g)))).Where(p => p.Id.Length > 0 && p.Box is not null).DistinctBy(p => p.Id)
        .ToImmutableDictionary(p => p.Id, p => p.Box!.Value, StringComparer.Ordinal);

    // The lines are the only paths that lie straight in the staff.
    private static Box? StaffLines(XElement measure, InkReader ink) =>
        Box.Around([.. measure.Elements(Print.Ns + "g").Where(g => Class(g) == "staff").Elements(Print.Ns + "path").SelectMany(ink.Of)]);

    private static int BarIndex(string id) => int.Parse(id.AsSpan(PlaceId.Bar.Length), CultureInfo.InvariantCulture);

    private static string Class(XElement e) => e.Attribute("class")?.Value ?? "";

    private static string Id(XElement e) => e.Attribute("id")?.Value ?? "";
}
