using System.Collections.Immutable;
using System.Xml.Linq;
using Seamwright.Core.Scores;
using Seamwright.Engraving.Guidance;

namespace Seamwright.Engraving.Notation;

/// <summary>Writes a part as MEI 5, with a place held for everything the page composer draws itself.</summary>
internal static class MeiWriter
{
    /// <summary>The engraver's unit, half a staff space, in tenths of a millimetre.</summary>
    public const double Unit = 8.8;

    /// <summary>Writes a part, or a stretch of it.</summary>
    /// <param name="part">At concert pitch.</param>
    /// <param name="options">Clef and tempo.</param>
    /// <param name="guides">What stands around notes, by note id.</param>
    /// <param name="columnOf">How wide a note's column must be at least, in hundredths of a millimetre, by note id.</param>
    /// <param name="systemStarts">Indices of bars that begin a system besides the first of each section; empty leaves it to the engraver.</param>
    /// <param name="stretch">The bars to write, with everything that begins in them; null for all.</param>
    public static NotationText Write(
        Part part, SheetOptions options, ImmutableDictionary<string, NoteGuide> guides, Func<string, double> columnOf, IReadOnlySet<int>? systemStarts = null, Stretch? stretch = null)
    {
        var (first, end) = stretch is { } s ? (s.From, s.To) : (0, part.Bars.Length);
        var view = new StaffView(part, options.Clef);
        var directions = new DirectionWriter(part, guides, columnOf, options.QuartersPerMinute);
        var layers = new LayerWriter(part, view);
        int[] starts = [first, .. Sections.Of(part).Where(b => b > first && b < end), end];
        var movements = starts.Zip(starts.Skip(1), (from, to) =>
            Mei.Element("mdiv", Mei.Element("score", Opening(part, view, from), Section(part, view, layers, directions, systemStarts ?? ImmutableHashSet<int>.Empty, from, to))));
        var document = Mei.Element(
            "mei",
            Mei.Is("meiversion", "5.1"),
            Mei.Element("meiHead", Mei.Element("fileDesc", Mei.Element("titleStmt", Mei.Element("title")), Mei.Element("pubStmt"))),
            Mei.Element("music", Mei.Element("body", movements)));
        return new NotationText(new XDocument(document).ToString(), directions.Headings);
    }

    // Every section opens with clef and key; its meter is printed again only where it is a new one.
    private static XElement Opening(Part part, StaffView view, int bar)
    {
        var first = part.Bars[bar];
        var meter = Mei.MeterOf(first.Meter);
        if (bar > 0 && part.Bars[bar - 1].Meter == first.Meter) meter.Add(Mei.Is("visible", "false"));
        var staff = Mei.Element(
            "staffDef",
            Mei.Is("n", 1),
            Mei.Is("lines", 5),
            Mei.ClefOf(view.ClefAt(bar)),
            Mei.KeyOf(view.KeyOf(first)),
            meter);
        return Mei.Element("scoreDef", Mei.Element("staffGrp", staff));
    }

    private static XElement Section(Part part, StaffView view, LayerWriter layers, DirectionWriter directions, IReadOnlySet<int> systemStarts, int from, int to)
    {
        var section = Mei.Element("section");
        var target = section;
        for (var i = from; i < to; i++)
        {
            var bar = part.Bars[i];
            if (systemStarts.Contains(i)) (bar.Road.EndingStarts ? section : target).Add(Mei.Element("sb"));
            if (bar.Road.EndingStarts) section.Add(target = Ending(bar));
            if (i > from && Change(part.Bars[i - 1], bar, view) is { } change) target.Add(change);
            var rests = Math.Min(RestBars(part, i), to - i);
            target.Add(rests > 1 ? LongRest(part, i, rests, layers, directions) : Measure(part, bar, layers, directions));
            i += rests > 1 ? rests - 1 : 0;
            if (part.Bars[i].Road.EndingStops) target = section;
        }

        return section;
    }

    private static XElement Ending(Bar bar)
    {
        var numbers = string.Join(", ", bar.Road.Endings.DefaultIfEmpty(1).Select(n => $"{n}."));
        return Mei.Element("ending", Mei.Is("n", numbers), Mei.Is("label", numbers));
    }

    private static XElement? Change(Bar before, Bar bar, StaffView view)
    {
        var (oldKey, newKey) = (view.KeyOf(before).Fifths, view.KeyOf(bar).Fifths);
        var key = oldKey != newKey ? Mei.KeyOf(view.KeyOf(bar)) : null;
        var meter = before.Meter != bar.Meter ? Mei.MeterOf(bar.Meter) : null;
        return key is null && meter is null ? null : Mei.Element("scoreDef", key, meter);
    }

    private static XElement Measure(Part part, Bar bar, LayerWriter layers, DirectionWriter directions) => Mei.Element(
        "measure",
        Mei.IdOf($"{PlaceId.Bar}{bar.Index}"),
        bar.Number.Length > 0 ? Mei.Is("n", PlainText.OneLine(bar.Number)) : null,
        bar.IsPickup || bar.Length != bar.Meter.BarLength ? Mei.Is("metcon", "false") : null,
        RoadSigns.BarLines(part, bar),
        Mei.Element("staff", Mei.Is("n", 1), layers.Layer(bar)),
        directions.Of(bar));

    /// <summary>How many bars from here are nothing but rest and can be printed as one.</summary>
    private static int RestBars(Part part, int first)
    {
        var count = 0;
        while (first + count < part.Bars.Length && IsSilent(part.Bars[first + count]) && (count == 0 || FollowsSilently(part.Bars[first + count - 1], part.Bars[first + count]))) count++;
        return count;
    }

    private static bool IsSilent(Bar bar) => !bar.IsPickup && bar.Events.All(e => e is Rest { FillsBar: true, Fermata: false }) && bar.Events.Length == 1;

    private static bool FollowsSilently(Bar before, Bar bar) =>
        before.Road with { RepeatStarts = false, EndingStarts = false, Segno = false, Coda = false, Endings = [] } == BarRoad.Straight with { Endings = [] }
        && bar.Road is { RepeatStarts: false, EndingStarts: false, Segno: false, Coda: false }
        && before.Meter == bar.Meter && before.Key == bar.Key && bar.Section.Length == 0
        && bar.Tempos.IsEmpty && bar.Directions.IsEmpty && bar.Clefs.All(c => c.Offset == Core.Units.Beats.Zero && bar.Index == 0);

    private static XElement LongRest(Part part, int first, int count, LayerWriter layers, DirectionWriter directions)
    {
        var measure = Measure(part, part.Bars[first], layers, directions);
        var layer = measure.Descendants(Mei.Ns + "layer").Single();
        for (var i = 1; i < count; i++) layer.Add(layers.Layer(part.Bars[first + i]).Elements(Mei.Ns + "clef"));
        layer.Element(Mei.Ns + "mRest")!.ReplaceWith(Mei.Element("multiRest", Mei.Is("num", count)));
        measure.SetAttributeValue("right", RoadSigns.BarLines(part, part.Bars[first + count - 1]).FirstOrDefault(a => a.Name == "right")?.Value);
        measure.Add(RoadSigns.Of(part, part.Bars[first + count - 1]).Where(_ => count > 1));
        return measure;
    }
}
