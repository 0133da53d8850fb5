using System.Xml.Linq;
using Seamwright.Engraving.Notation;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Layout;

/// <summary>A system with everything around it, and how far it reaches.</summary>
/// <param name="Drawing">In the engraver's coordinates.</param>
/// <param name="Top">Highest ink.</param>
/// <param name="Bottom">Lowest ink.</param>
/// <param name="Places">Where everything stands, in the same coordinates.</param>
internal sealed record DressedSystem(XElement Drawing, double Top, double Bottom, SystemPlaces Places)
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
    private const double RowGap = 60;

    /// <summary>Ink as near as this beside a row counts as under it: a breath mark between two positions would read as a comma.</summary>
    private const double RowBesideGap = 260;

    public DressedSystem Dress(XElement system)
    {
        var beats = BeatsOf(system);
        var places = TakePlaces(system);
        var brackets = system.Descendants(Print.Ns + "g").Where(g => g.Attribute("class")?.Value == "voltaBracket").ToList();
        FreeBreaths(system);
        new TupletNumbers(ink).Free(system);
        var skyline = new Skyline();
        skyline.Add(ink.Of(system).Except(brackets.SelectMany(ink.Of)));
        var notes = Noteheads(system);
        beats = Even(beats, notes);
        var above = rows.Positions(notes);
        var ceiling = PlaceAbove(system, skyline, above);
        LiftBrackets(brackets, skyline);
        PlaceHeadings(system, skyline, places, ceiling);
        var floor = double.NegativeInfinity;
        foreach (var row in rows.Below(notes, beats).Where(r => r.Count > 0)) floor = PlaceBelow(system, skyline, row, floor);
        var all = Box.Around(skyline.Boxes) ?? new Box(0, 0, 0, 0);
        return new DressedSystem(system, all.Top, all.Bottom, PlaceReader.Read(system, all, ink));
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

    private static List<DrawnBeat> BeatsOf(XElement system) =>
        [.. Holding(system, PlaceId.Beat).Where(g => g.Element(Print.Ns + "text") is not null).Select(g => DrawnBeat.Of(g.Attribute("id")!.Value, TextX(g)))];

    // The engraver keeps the beats apart but not even: they are spread between the head and the last of them.
    private static List<DrawnBeat> Even(List<DrawnBeat> beats, List<DrawnNote> notes) =>
        [.. beats.GroupBy(b => b.NoteId).SelectMany(g => notes.Find(n => n.Id == g.Key) is { Id: not null } head
            ? g.OrderBy(b => b.X).Select((b, i) => b with { X = head.X + ((g.Max(x => x.X) - head.X) * (i + 1) / g.Count()) })
            : g)];

    private static List<XElement> Holding(XElement system, string prefix) =>
        [.. system.Descendants(Print.Ns + "g").Where(g => g.Attribute("id")?.Value.StartsWith(prefix, StringComparison.Ordinal) == true)];

    private static double TextX(XElement holder) => double.Parse(holder.Element(Print.Ns + "text")!.Attribute("x")!.Value, System.Globalization.CultureInfo.InvariantCulture);

    /// <summary>Removes what only held a place, and remembers where headings were.</summary>
    private static List<(string Id, double X)> TakePlaces(XElement system)
    {
        foreach (var spacer in system.Descendants(Print.Ns + "g").Where(g => g.Attribute("class")?.Value == "harm").ToList()) spacer.Remove();
        var held = Holding(system, PlaceId.Heading);
        var places = held.Where(h => h.Element(Print.Ns + "text") is not null).Select(h => (h.Attribute("id")!.Value, TextX(h))).ToList();
        foreach (var h in held) h.Remove();
        return places;
    }

    /// <returns>Where the row's own height ends: headings stay above it even where it has a gap.</returns>
    private static double PlaceAbove(XElement system, Skyline skyline, IReadOnlyList<RowItem> row)
    {
        if (row.Count == 0) return double.PositiveInfinity;
        var y = row.Min(i => Above(skyline, i.Box.Moved(i.X, 0), RowBesideGap));
        foreach (var item in row.OrderBy(i => i.IsSmall))
            Put(system, skyline, item, item.IsSmall ? Math.Min(y, Above(skyline, item.Box.Moved(item.X, 0))) : y);
        return y + row.Min(i => i.Box.Top);
    }

    /// <returns>Where the row's own height ends: the next row stays below it even where it has a gap.</returns>
    private static double PlaceBelow(XElement system, Skyline skyline, IReadOnlyList<RowItem> row, double floor)
    {
        var y = row.Max(i => Math.Max(Below(skyline, i.Box.Moved(i.X, 0), RowBesideGap), floor + RowGap - i.Box.Top));
        foreach (var item in row.OrderBy(i => i.IsSmall))
            Put(system, skyline, item, item.IsSmall ? Math.Max(y, Below(skyline, item.Box.Moved(item.X, 0))) : y);
        return y + row.Max(i => i.Box.Bottom);
    }

    /// <summary>The engraver lets a breath mark touch an accidental or a slur: such a mark moves up until it is free of all but staff lines.</summary>
    private void FreeBreaths(XElement system)
    {
        var breaths = system.Descendants(Print.Ns + "g").Where(g => IsOf(g, "breath")).ToList();
        if (breaths.Count == 0) return;
        var rest = new XElement(system);
        foreach (var e in rest.Descendants().Where(e => IsOf(e, "breath") || (e.Name.LocalName == "path" && IsOf(e.Parent!, "staff"))).ToList()) e.Remove();
        var obstacles = ink.Of(rest);
        foreach (var breath in breaths) Free(breath, obstacles);
    }

    private void Free(XElement breath, List<Box> obstacles)
    {
        const double Gap = 30;
        if (Box.Around(ink.Of(breath)) is not { } box) return;
        var free = box;
        while (obstacles.Where(free.Grown(Gap).Overlaps).Select(o => (double?)o.Top).Min() is { } top) free = free.Moved(0, top - (2 * Gap) - free.Bottom);
        if (free != box) breath.SetAttributeValue("transform", $"translate(0, {Print.Number(free.Top - box.Top)})");
    }

    private static bool IsOf(XElement e, string kind) => e.Attribute("class")?.Value == kind;

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

    private void PlaceHeadings(XElement system, Skyline skyline, List<(string Id, double X)> places, double ceiling)
    {
        var known = places.Where(p => headings.ContainsKey(p.Id)).OrderBy(p => p.X).ToList();
        PlaceRow([.. known.Where(p => headings[p.Id].Section.Length == 0).Select(p => HeadingItem(p.Id, p.X))]);
        PlaceRow([.. known.Where(p => headings[p.Id].Section.Length > 0).Take(1).Select(p => HeadingItem(p.Id, 0))]);

        void PlaceRow(List<RowItem> items)
        {
            if (items.Count == 0) return;
            var common = items.Min(i => Math.Min(Above(skyline, i.Box.Moved(i.X, 0)), ceiling - RowGap - i.Box.Bottom));
            foreach (var item in items) Put(system, skyline, item, Math.Min(common, Above(skyline, item.Box.Moved(item.X, 0))));
        }
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

    private static double Below(Skyline skyline, Box box, double beside = BesideGap) =>
        (skyline.Bottom(box.Left - beside, box.Right + beside) ?? 0) + BelowGap - box.Top;
}
