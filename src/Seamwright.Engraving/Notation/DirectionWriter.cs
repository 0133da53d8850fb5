using System.Collections.Immutable;
using System.Globalization;
using System.Xml.Linq;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;
using Seamwright.Engraving.Guidance;

namespace Seamwright.Engraving.Notation;

/// <summary>Writes what hangs on a bar's notes: slurs, ties, dynamics, words, headings, guidance, signs of the way.</summary>
internal sealed class DirectionWriter
{
    /// <summary>Width of one letter i in a harm text, in hundredths of a millimetre: 0.278 em in the text face the engraver
    /// measures with, and 4.5 of its units an em.</summary>
    private const double SpacerWidth = 0.278 * 4.5 * MeiWriter.Unit * 10;

    private readonly Part part;
    private readonly ImmutableDictionary<string, NoteGuide> guides;
    private readonly Func<string, double> columnOf;
    private readonly double? firstTempo;
    private readonly Dictionary<string, int> order = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string> tieEnds = new(StringComparer.Ordinal);
    private readonly ILookup<string, Span> slurs;
    private readonly ILookup<string, Span> glissandi;
    private readonly ILookup<int, Hairpin> hairpins;
    private readonly Dictionary<string, Heading> headings = new(StringComparer.Ordinal);

    public DirectionWriter(Part part, ImmutableDictionary<string, NoteGuide> guides, Func<string, double> columnOf, double? firstTempo)
    {
        this.part = part;
        this.guides = guides;
        this.columnOf = columnOf;
        this.firstTempo = firstTempo;
        foreach (var note in part.Notes) order.TryAdd(note.Id, order.Count);
        slurs = part.Slurs.Where(RunsForward).Distinct().ToLookup(s => s.FromId);
        glissandi = part.Glissandi.Where(RunsForward).Distinct().ToLookup(s => s.FromId);
        hairpins = Hairpin.In(part).ToLookup(h => h.Bar);
        FindTieEnds();
    }

    /// <summary>Headings met so far, by the id that holds their place.</summary>
    public IReadOnlyDictionary<string, Heading> Headings => headings;

    /// <summary>Everything of one bar that is written after its staff.</summary>
    public IEnumerable<XElement> Of(Bar bar) =>
        HeadingsOf(bar)
            .Concat(bar.Events.SelectMany(e => OfEvent(bar, e)))
            .Concat(bar.Directions.Select(d => DirectionOf(bar, d)).OfType<XElement>())
            .Concat(hairpins[bar.Index].Select(h => h.ToElement(part)))
            .Concat(RoadSigns.Of(part, bar));

    private bool RunsForward(Span span) =>
        order.TryGetValue(span.FromId, out var from) && order.TryGetValue(span.ToId, out var to) && from < to;

    private void FindTieEnds()
    {
        var notes = part.Notes.Where(n => n.Grace == Grace.None).ToList();
        foreach (var (a, b) in notes.Zip(notes.Skip(1)))
        {
            if (a.TieToNext && a.Pitch.Midi == b.Pitch.Midi) tieEnds.TryAdd(a.Id, b.Id);
        }
    }

    private IEnumerable<XElement> OfEvent(Bar bar, ScoreEvent e)
    {
        if (e.Fermata) yield return At("fermata", e.Id);
        if (e is not Note note) yield break;
        var guide = guides.GetValueOrDefault(note.Id) ?? NoteGuide.Empty;
        if (tieEnds.TryGetValue(note.Id, out var end)) yield return Between("tie", note.Id, end);
        foreach (var slur in slurs[note.Id]) yield return Between("slur", slur.FromId, slur.ToId);
        foreach (var glissando in glissandi[note.Id]) yield return Between("gliss", glissando.FromId, glissando.ToId, Mei.Is("lform", "solid"));
        if (note.BreathAfter || guide.BreathAfter) yield return Breath(bar, note);
        if (note.Grace == Grace.None && Spacer(note) is { } spacer) yield return spacer;
        if (guide.OnEveryBeat) foreach (var beat in BeatSpacers(bar, note)) yield return beat;
    }

    /// <summary>A chord symbol that is never printed: the engraver centres it on its note and keeps it clear of its neighbours.</summary>
    private XElement? Spacer(Note note)
    {
        var count = (int)Math.Ceiling(columnOf(note.Id) / SpacerWidth);
        return count == 0 ? null : Mei.Element("harm", Mei.Is("place", "above"), Mei.Is("staff", 1), Mei.Is("startid", "#" + note.Id), new string('i', count));
    }

    /// <summary>The same for each beat within a held note, which says afterwards where the beat is.</summary>
    private IEnumerable<XElement> BeatSpacers(Bar bar, Note note)
    {
        var count = (int)Math.Ceiling(columnOf(note.Id) / SpacerWidth);
        for (var (beat, at) = (1, Beats.Zero); at < bar.Length; (beat, at) = (beat + 1, at + bar.Meter.Beat))
        {
            if (at <= note.Offset || at >= note.Offset + note.Duration) continue;
            yield return Mei.Element("harm", Mei.IdOf($"{PlaceId.Beat}{note.Id}.{beat}"), Mei.Is("place", "above"), Mei.Is("staff", 1), Mei.Is("tstamp", Mei.Timestamp(at, bar.Meter)), new string('i', count));
        }
    }

    private static XElement At(string name, string id) => Mei.Element(name, Mei.Is("startid", "#" + id), Mei.Is("place", "above"));

    /// <summary>Shortly before the note ends: at its beginning the engraver would set the comma over its head.</summary>
    private static XElement Breath(Bar bar, Note note)
    {
        var (share, most) = (note.Duration.Times(2, 5), Beats.Quarter / 2);
        var at = note.Offset + note.Duration - (share < most ? share : most);
        return Mei.Element("breath", Mei.Is("staff", 1), Mei.Is("place", "above"), Mei.Is("tstamp", Mei.Timestamp(at, bar.Meter)));
    }

    private static XElement Between(string name, string from, string to, params object[] more) =>
        Mei.Element(name, Mei.Is("startid", "#" + from), Mei.Is("endid", "#" + to), more);

    private IEnumerable<XElement> HeadingsOf(Bar bar)
    {
        var places = bar.Tempos.Select(t => t.Offset)
            .Concat(bar.Directions.Where(d => d.Kind == DirectionKind.RehearsalMark).Select(d => d.Offset))
            .Concat(bar.Index == 0 && firstTempo is not null ? [Beats.Zero] : [])
            .Concat(bar.Road.Segno || bar.Road.Coda ? [Beats.Zero] : [])
            .Distinct().Order();
        foreach (var at in places)
        {
            if (HeadingAt(bar, at) is { IsEmpty: false } heading) yield return Held(bar, at, heading);
        }

        if (bar.Section.Length > 0) yield return Held(bar, Beats.Zero, Heading.OfSection(PlainText.OneLine(bar.Section)));
    }

    /// <summary>Holds a heading's place.</summary>
    private XElement Held(Bar bar, Beats at, Heading heading)
    {
        var id = $"{PlaceId.Heading}{bar.Index}.{headings.Count}";
        headings[id] = heading;
        return Mei.Element(
            "reh",
            Mei.IdOf(id),
            Mei.Is("staff", 1),
            Mei.Is("place", "above"),
            Mei.Is("tstamp", Mei.Timestamp(at, bar.Meter)),
            Mei.Element("rend", Mei.Is("halign", "left"), "o"));
    }

    private Heading HeadingAt(Bar bar, Beats at)
    {
        var tempos = bar.Tempos.Where(t => t.Offset == at).ToList();
        var rehearsal = bar.Directions.Where(d => d.Kind == DirectionKind.RehearsalMark && d.Offset == at).Select(d => d.Text);
        var asked = bar.Index == 0 && at == Beats.Zero ? firstTempo : null;
        var mark = tempos.Find(t => t.QuartersPerMinute is not null);
        var unit = mark?.Unit ?? NoteValue.Quarter;
        var quarters = asked ?? mark?.QuartersPerMinute;
        return new Heading(
            bar.Road.Segno && at == Beats.Zero,
            bar.Road.Coda && at == Beats.Zero,
            PlainText.Short(string.Join(' ', rehearsal), 12),
            PlainText.OneLine(string.Join(' ', tempos.Select(t => t.Words).Where(w => w.Length > 0))),
            quarters is null ? null : unit,
            quarters is { } q ? PerMinute(q, unit) : "");
    }

    private static string PerMinute(double quarters, NoteValue unit) =>
        (quarters / unit.Duration.ToDouble()).ToString("0.#", CultureInfo.InvariantCulture);

    private static XElement? DirectionOf(Bar bar, Direction direction)
    {
        var text = PlainText.OneLine(direction.Text);
        if (text.Length == 0) return null;
        return direction.Kind switch
        {
            DirectionKind.Dynamic => Mei.Element("dynam", Mei.Is("staff", 1), Mei.Is("place", "below"), Mei.Is("vgrp", 1), Anchor(bar, direction.Offset), text),
            DirectionKind.Words => Mei.Element("dir", Mei.Is("staff", 1), Mei.Is("place", "above"), Anchor(bar, direction.Offset), text),
            _ => null,
        };
    }

    /// <summary>The note or rest at a place where there is one: a time alone would float free of it.</summary>
    private static XAttribute Anchor(Bar bar, Beats offset)
    {
        var there = bar.Events.LastOrDefault(e => e.Offset == offset && e is not Rest { FillsBar: true });
        return there is null ? Mei.Is("tstamp", Mei.Timestamp(offset, bar.Meter)) : Mei.Is("startid", "#" + there.Id);
    }
}
