using System.Collections.Immutable;
using System.Xml.Linq;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Engraving.Notation;

/// <summary>Writes the notes and rests of one bar after another.</summary>
internal sealed class LayerWriter
{
    private readonly Part part;
    private readonly StaffView view;
    private readonly Accidentals accidentals = new();
    private Pitch? tiedIn;

    public LayerWriter(Part part, StaffView view)
    {
        this.part = part;
        this.view = view;
    }

    /// <summary>The layer of a bar. Call in sheet order: accidentals are remembered.</summary>
    public XElement Layer(Bar bar)
    {
        accidentals.StartBar(view.KeyOf(bar));
        var layer = Mei.Element("layer", Mei.Is("n", 1));
        var clefs = new Queue<ClefMark>(view.ChangesIn(bar.Index));
        foreach (var group in TupletGroups(bar.Events))
        {
            while (clefs.TryPeek(out var clef) && clef.Offset <= group[0].Offset) layer.Add(Mei.ClefOf(clefs.Dequeue().Clef));
            var elements = Beamed(bar, group);
            if (group[0].Value.InTuplet && IsTimed(group[0])) layer.Add(Tuplet(group[0].Value, elements));
            else layer.Add(elements);
        }

        layer.Add(clefs.Select(c => Mei.ClefOf(c.Clef)));
        if (bar.Index + 1 < part.Bars.Length && view.ClefAt(bar.Index + 1) != view.ClefAfter(bar.Index))
            layer.Add(Mei.ClefOf(view.ClefAt(bar.Index + 1)));
        return layer;
    }

    private static bool IsTimed(ScoreEvent e) => e is not Note { Grace: not Grace.None };

    private static XElement Tuplet(NoteValue value, IEnumerable<XElement> elements) =>
        Mei.Element("tuplet", Mei.Is("num", value.TupletActual), Mei.Is("numbase", value.TupletNormal), elements);

    /// <summary>Cuts a bar into tuplets and the stretches between them.</summary>
    private static IEnumerable<IReadOnlyList<ScoreEvent>> TupletGroups(ImmutableArray<ScoreEvent> events)
    {
        var group = new List<ScoreEvent>();
        foreach (var e in events)
        {
            if (group.Count > 0 && BeginsNewGroup(group[^1], e))
            {
                yield return group;
                group = [];
            }

            group.Add(e);
        }

        if (group.Count > 0) yield return group;
    }

    private static bool BeginsNewGroup(ScoreEvent before, ScoreEvent e)
    {
        var edge = before.TupletEdge == TupletEdge.Stop || e.TupletEdge == TupletEdge.Start;
        if (!IsTimed(before)) return edge || (IsTimed(e) && e.Value.InTuplet);
        if (!IsTimed(e)) return edge;
        return edge || (before.Value.TupletActual, before.Value.TupletNormal) != (e.Value.TupletActual, e.Value.TupletNormal);
    }

    private List<XElement> Beamed(Bar bar, IReadOnlyList<ScoreEvent> events)
    {
        var shift = IsUpbeat(bar) ? bar.Meter.BarLength - bar.Length : Beats.Zero;
        var beams = Beaming.Of(events, bar.Meter, shift < Beats.Zero ? Beats.Zero : shift);
        var (result, open, openBeam) = (new List<XElement>(), (XElement?)null, 0);
        for (var i = 0; i < events.Count; i++)
        {
            var grace = !IsTimed(events[i]);
            var element = Event(bar, events[i]);

            // A grace note inside a beam stays there; before one it stands outside.
            var inside = grace ? openBeam != 0 && beams.Skip(i).FirstOrDefault(b => b != 0) == openBeam : beams[i] != 0;
            if (!inside) (open, openBeam) = (null, 0);
            else if (!grace && beams[i] != openBeam) Open(beams[i]);
            if (open is null) result.Add(element);
            else open.Add(element);
        }

        return GraceBeams(result);

        void Open(int beam)
        {
            (open, openBeam) = (Mei.Element("beam"), beam);
            result.Add(open);
        }
    }

    /// <summary>Several grace notes in a row share a beam of their own.</summary>
    private static List<XElement> GraceBeams(List<XElement> elements)
    {
        var result = new List<XElement>();
        foreach (var e in elements)
        {
            var grace = e.Attribute("grace") is not null && e.Attribute("dur")?.Value is not ("1" or "2" or "4" or "breve");
            if (grace && result.LastOrDefault() is { } last && last.Attribute("fits-grace") is not null) last.Add(e);
            else if (grace) result.Add(Mei.Element("beam", Mei.Is("fits-grace", 1), e));
            else result.Add(e);
        }

        for (var i = 0; i < result.Count; i++)
        {
            if (result[i].Attribute("fits-grace") is not { } marker) continue;
            marker.Remove();
            if (result[i].Elements().Count() == 1) result[i] = result[i].Elements().Single();
        }

        return result;
    }

    /// <summary>A bar that ends with its meter's bar line though it began late.</summary>
    private bool IsUpbeat(Bar bar) => bar.IsPickup && (bar.Index == 0 || part.Bars[bar.Index - 1].IsPickup);

    private XElement Event(Bar bar, ScoreEvent e) => e switch
    {
        Note note => NoteElement(bar, note),
        Rest { FillsBar: true } => Mei.Element("mRest", Mei.IdOf(e.Id)),
        _ => Mei.Element("rest", Mei.IdOf(e.Id), Mei.Is("dur", Mei.Duration(e.Value)), Dots(e.Value)),
    };

    private XElement NoteElement(Bar bar, Note note)
    {
        var written = note.Pitch + view.TranspositionAt(bar.Index, note.Offset);
        var tied = tiedIn == written;
        var print = accidentals.Next(written, tied, note.CourtesyAccidental);
        tiedIn = note.TieToNext ? written : note.Grace == Grace.None ? null : tiedIn;
        return Mei.Element(
            "note",
            Mei.IdOf(note.Id),
            Mei.Is("pname", Mei.Step(written.Step)),
            Mei.Is("oct", written.Octave),
            Mei.Is("dur", Mei.Duration(note.Value)),
            Dots(note.Value),
            GraceAttributes(note.Grace),
            Accidental(written.Alter, print),
            ArticulationsOf(note));
    }

    private static object?[] GraceAttributes(Grace grace) => grace switch
    {
        Grace.Plain => [Mei.Is("grace", "acc")],
        Grace.Slashed => [Mei.Is("grace", "unacc"), Mei.Is("stem.mod", "1slash")],
        _ => [],
    };

    private static XAttribute? Dots(NoteValue value) => value.Dots > 0 ? Mei.Is("dots", value.Dots) : null;

    private static XObject? Accidental(int alter, AccidentalPrint print) => print switch
    {
        AccidentalPrint.Printed => Mei.Element("accid", Mei.Is("accid", Mei.Alter(alter))),
        AccidentalPrint.Reminder => Mei.Element("accid", Mei.Is("accid", Mei.Alter(alter)), Mei.Is("enclose", "paren")),
        _ when alter == 0 => null,
        _ => Mei.Is("accid.ges", alter == 2 ? "ss" : Mei.Alter(alter)),
    };

    private static IEnumerable<XElement> ArticulationsOf(Note note)
    {
        (Articulations Flag, string[] Names)[] table =
        [
            (Articulations.Staccato, ["stacc"]),
            (Articulations.Staccatissimo, ["stacciss"]),
            (Articulations.Tenuto, ["ten"]),
            (Articulations.DetachedLegato, ["stacc", "ten"]),
            (Articulations.Accent, ["acc"]),
            (Articulations.StrongAccent, ["marc"]),
        ];
        var names = table.Where(t => note.Articulations.HasFlag(t.Flag)).SelectMany(t => t.Names).Distinct();
        return names.Select(n => Mei.Element("artic", Mei.Is("artic", n)));
    }
}
