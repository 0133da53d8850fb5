using System.Xml.Linq;
using Seamwright.Engraving.Notation;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Layout;

/// <summary>A system with everything around it, and how far it reaches.</summary>
/// <param name="Drawing">In the engraver's coordinates.</param>
/// <param name="Top">Highest ink.</param>
/// <param name="Bottom">Lowest ink.</param>
internal sealed record DressedSystem(XElement Drawing, double Top, double Bottom)
{
    public double Height => Bottom - Top;
}

/// <summary>Dresses one system: positions in a row above all its ink, then ending brackets, then headings; marks, syllables and
/// words in rows below.</summary>
internal sealed class SystemDresser(NoteRows rows, IReadOnlyDictionary<string, Heading> headings, InkReader ink, HeadingPrint headingPrint, double width)
{
    private const double AboveGap = 120;
    private const double BelowGap = 130;
    private const double BesideGap = 50;

    /// <summary>Ink as near as this beside a row counts as under it: a breath mark between two positions would read as a comma.</summary>
    private const double RowBesideGap = 260;

    public DressedSystem Dress(XElement system)
    {
        var places = TakePlaces(system);
        var brackets = system.Descendants(Print.Ns + "g").Where(g => g.Attribute("class")?.Value == "voltaBracket").ToList();
        var skyline = new Skyline();
        skyline.Add(ink.Of(system).Except(brackets.SelectMany(ink.Of)));
        var notes = Noteheads(system);
        var above = rows.Positions(notes);
        PlaceAbove(system, skyline, above);
        LiftBrackets(brackets, skyline);
        PlaceHeadings(system, skyline, places);
        foreach (var row in rows.Below(notes)) PlaceBelow(system, skyline, row);
        var all = Box.Around(skyline.Boxes) ?? new Box(0, 0, 0, 0);
        return new DressedSystem(system, all.Top, all.Bottom);
    }

    /// <summary>Where each note's head is centred, by note id.</summary>
    private List<DrawnNote> Noteheads(XElement system)
    {
        var found = new List<DrawnNote>();
        foreach (var note in system.Descendants(Print.Ns + "g").Where(g => g.Attribute("class")?.Value == "note" && g.Attribute("id") is not null))
        {
            var head = note.Elements(Print.Ns + "g").FirstOrDefault(g => g.Attribute("class")?.Value == "notehead");
            if (head is not null && Box.Around(ink.Of(head)) is { } box) found.Add(new(note.Attribute("id")!.Value, box.CentreX, rows.IsGrace(note.Attribute("id")!.Value)));
        }

        return found;
    }

    /// <summary>Removes what only held a place, and remembers where headings were.</summary>
    private static List<(string Id, double X)> TakePlaces(XElement system)
    {
        foreach (var spacer in system.Descendants(Print.Ns + "g").Where(g => g.Attribute("class")?.Value == "harm").ToList()) spacer.Remove();
        var held = system.Descendants(Print.Ns + "g").Where(g => g.Attribute("id")?.Value.StartsWith(PlaceId.Heading, StringComparison.Ordinal) == true).ToList();
        var places = held.Where(h => h.Element(Print.Ns + "text") is not null)
            .Select(h => (h.Attribute("id")!.Value, double.Parse(h.Element(Print.Ns + "text")!.Attribute("x")!.Value, System.Globalization.CultureInfo.InvariantCulture))).ToList();
        foreach (var h in held) h.Remove();
        return places;
    }

    private static void PlaceAbove(XElement system, Skyline skyline, IReadOnlyList<RowItem> row)
    {
        if (row.Count == 0) return;
        var y = row.Min(i => Above(skyline, i.Box.Moved(i.X, 0), RowBesideGap));
        foreach (var item in row.OrderBy(i => i.IsSmall))
            Put(system, skyline, item, item.IsSmall ? Math.Min(y, Above(skyline, item.Box.Moved(item.X, 0))) : y);
    }

    private static void PlaceBelow(XElement system, Skyline skyline, IReadOnlyList<RowItem> row)
    {
        if (row.Count == 0) return;
        var y = row.Max(i => Below(skyline, i.Box.Moved(i.X, 0)));
        foreach (var item in row.OrderBy(i => i.IsSmall))
            Put(system, skyline, item, item.IsSmall ? Math.Max(y, Below(skyline, item.Box.Moved(item.X, 0))) : y);
    }

    private void LiftBrackets(List<XElement> brackets, Skyline skyline)
    {
        var boxes = brackets.Select(b => Box.Around(ink.Of(b))).OfType<Box>().ToList();
        if (boxes.Count == 0) return;
        var dy = boxes.Min(b => Above(skyline, b));
        foreach (var bracket in brackets)
        {
            bracket.SetAttributeValue("transform", $"translate(0, {Print.Number(dy)})");
            skyline.Add(ink.Of(bracket));
        }
    }

    private void PlaceHeadings(XElement system, Skyline skyline, List<(string Id, double X)> places)
    {
        var items = places.Where(p => headings.ContainsKey(p.Id)).OrderBy(p => p.X).Select(p => HeadingItem(p.Id, p.X)).ToList();
        if (items.Count == 0) return;
        var common = items.Min(i => Above(skyline, i.Box.Moved(i.X, 0)));
        foreach (var item in items) Put(system, skyline, item, Math.Min(common, Above(skyline, item.Box.Moved(item.X, 0))));
    }

    private RowItem HeadingItem(string id, double x)
    {
        var drawing = headingPrint.Draw(headings[id]);
        var box = Box.Around(ink.Of(drawing))!.Value;

        // A long heading near the right margin moves left so that it ends there.
        return new RowItem(id, "heading", Math.Max(0, Math.Min(x, width - box.Right)), drawing, box);
    }

    private static void Put(XElement system, Skyline skyline, RowItem item, double y)
    {
        system.Add(Print.Element("g", Print.Is("id", item.Id), Print.Is("class", item.Kind), Print.Is("transform", $"translate({Print.Number(item.X)}, {Print.Number(y)})"), item.Drawing));
        skyline.Add(item.Box.Moved(item.X, y));
    }

    /// <summary>How far a box must move down (negative: up) to stand just above the ink under it.</summary>
    private static double Above(Skyline skyline, Box box, double beside = BesideGap) =>
        (skyline.Top(box.Left - beside, box.Right + beside) ?? 0) - AboveGap - box.Bottom;

    private static double Below(Skyline skyline, Box box) =>
        (skyline.Bottom(box.Left - BesideGap, box.Right + BesideGap) ?? 0) + BelowGap - box.Top;
}
