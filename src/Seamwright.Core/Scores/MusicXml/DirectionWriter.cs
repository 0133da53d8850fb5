using System.Globalization;
using System.Numerics;
using System.Xml.Linq;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.MusicXml;

/// <summary>Writes tempos, dynamics, words and hairpins.</summary>
internal static class DirectionWriter
{
    /// <summary>An id that begins so tells the heading of a section from other words; the bar's index follows.</summary>
    public const string SectionId = "section-";

    /// <summary>All of a bar's, in order of place.</summary>
    public static IEnumerable<(Beats Offset, XElement Element)> Of(Bar bar) =>
        Section(bar).Concat(bar.Tempos.Select(t => (t.Offset, Tempo(t)))).Concat(bar.Directions.Select(d => (d.Offset, Direction(d)))).OrderBy(d => d.Item1);

    /// <summary>A direction for a document place; what lies between is written as its offset.</summary>
    public static XElement At((Beats Offset, XElement Element) direction, Beats place, Func<Beats, BigInteger> ticks)
    {
        var off = direction.Offset - place;
        var (element, offset) = (direction.Element, new XElement("offset", ticks(off)));
        if (off > Beats.Zero && (element.Name == "sound" || element.Name == "harmony")) element.Add(offset);
        else if (off > Beats.Zero) element.Elements("direction-type").Last().AddAfterSelf(offset);
        return element;
    }

    private static IEnumerable<(Beats Offset, XElement Element)> Section(Bar bar) => bar.Section.Length == 0
        ? []
        : [(Beats.Zero, new XElement("direction", new XAttribute("id", $"{SectionId}{bar.Index}"), new XAttribute("placement", "above"), Type(new XElement("words", new XAttribute("font-weight", "bold"), MusicXmlWriter.Clean(bar.Section)))))];

    private static XElement Tempo(TempoText t)
    {
        var sound = t.QuartersPerMinute is { } q ? new XElement("sound", new XAttribute("tempo", Text(q))) : null;
        if (t.Words.Length == 0 && t.Unit is null && sound is not null) return sound;
        return new XElement("direction", new XAttribute("placement", "above"), new XAttribute("directive", "yes"),
            t.Words.Length > 0 ? Type(new XElement("words", MusicXmlWriter.Clean(t.Words))) : null,
            t is { Unit: { } unit, QuartersPerMinute: { } quarters } ? Type(Metronome(unit, quarters)) : null,
            t.Words.Length == 0 && sound is null ? Type(new XElement("words")) : null,
            sound);
    }

    private static XElement Metronome(NoteValue unit, double quarters) => new("metronome",
        new XElement("beat-unit", Names.NoteTypes[unit.Base + 1]),
        Enumerable.Range(0, unit.Dots).Select(_ => new XElement("beat-unit-dot")),
        new XElement("per-minute", Text(Math.Round(quarters / unit.Duration.ToDouble(), 3))));

    private static XElement Direction(Direction d)
    {
        var element = new XElement("direction", new XAttribute("placement", d.Kind is DirectionKind.Words or DirectionKind.RehearsalMark ? "above" : "below"));
        element.Add(Type(d.Kind switch
        {
            DirectionKind.Dynamic => new XElement("dynamics", Names.Dynamics.Contains(d.Text) ? new XElement(d.Text) : new XElement("other-dynamics", MusicXmlWriter.Clean(d.Text))),
            DirectionKind.RehearsalMark => new XElement("rehearsal", MusicXmlWriter.Clean(d.Text)),
            DirectionKind.Crescendo => Wedge("crescendo"),
            DirectionKind.Diminuendo => Wedge("diminuendo"),
            DirectionKind.HairpinEnd => Wedge("stop"),
            _ => new XElement("words", MusicXmlWriter.Clean(d.Text)),
        }));
        return element;
    }

    private static XElement Wedge(string type) => new("wedge", new XAttribute("type", type));

    private static XElement Type(XElement content) => new("direction-type", content);

    private static string Text(double value) => ((decimal)value).ToString(CultureInfo.InvariantCulture);
}
