using System.Xml.Linq;

namespace Seamwright.Core.Scores.MusicXml;

/// <summary>Writes barlines, repeats, endings and jumps.</summary>
internal static class BarlineWriter
{
    public static XElement? Left(Bar bar)
    {
        var road = bar.Road;
        if (!road.RepeatStarts && !road.EndingStarts) return null;
        return new XElement("barline", new XAttribute("location", "left"),
            road.RepeatStarts ? new XElement("bar-style", "heavy-light") : null,
            road.EndingStarts ? Ending(bar, "start") : null,
            road.RepeatStarts ? new XElement("repeat", new XAttribute("direction", "forward")) : null);
    }

    public static XElement? Right(Bar bar)
    {
        var road = bar.Road;
        if (road.RepeatTimes == 0 && !road.EndingStops && road.RightBarline == BarlineStyle.Regular) return null;
        var heavy = road.RepeatTimes > 0 || road.RightBarline == BarlineStyle.Final;
        return new XElement("barline", new XAttribute("location", "right"),
            heavy ? new XElement("bar-style", "light-heavy") : road.RightBarline == BarlineStyle.Double ? new XElement("bar-style", "light-light") : null,
            road.EndingStops ? Ending(bar, "stop") : null,
            road.RepeatTimes > 0 ? new XElement("repeat", new XAttribute("direction", "backward"), road.RepeatTimes > 2 ? new XAttribute("times", road.RepeatTimes) : null) : null);
    }

    /// <summary>Segno and coda, at the left edge.</summary>
    public static IEnumerable<XElement> Signs(Bar bar)
    {
        if (bar.Road.Segno) yield return Sign("segno");
        if (bar.Road.Coda) yield return Sign("coda");
    }

    /// <summary>To Coda, Fine and the jumps, at the right edge.</summary>
    public static IEnumerable<XElement> Jumps(Part part, Bar bar)
    {
        var road = bar.Road;
        if (road.ToCoda) yield return Words("To Coda", "tocoda", "coda");
        if (road.Fine) yield return Words("Fine", "fine", "yes");
        if (road.Jump == Jump.DaCapo) yield return Words(RoadWords.Jump(part, bar), "dacapo", "yes");
        if (road.Jump == Jump.DalSegno) yield return Words(RoadWords.Jump(part, bar), "dalsegno", "segno");
    }

    private static XElement Ending(Bar bar, string type) =>
        new("ending", new XAttribute("number", bar.Road.Endings.IsEmpty ? "1" : string.Join(",", bar.Road.Endings)), new XAttribute("type", type));

    private static XElement Sign(string name) => new("direction", new XAttribute("placement", "above"),
        new XElement("direction-type", new XElement(name)), new XElement("sound", new XAttribute(name, name)));

    private static XElement Words(string words, string sound, string value) => new("direction", new XAttribute("placement", "above"),
        new XElement("direction-type", new XElement("words", words)), new XElement("sound", new XAttribute(sound, value)));
}
