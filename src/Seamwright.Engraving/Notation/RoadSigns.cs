using System.Xml.Linq;
using Seamwright.Core.Scores;

namespace Seamwright.Engraving.Notation;

/// <summary>Signs of the way through the piece: bar lines and jumps; segno and coda are headings.</summary>
internal static class RoadSigns
{
    /// <summary>Attributes of the bar's own lines.</summary>
    public static IEnumerable<XAttribute> BarLines(Part part, Bar bar)
    {
        if (bar.Road.RepeatStarts) yield return Mei.Is("left", "rptstart");
        var last = bar.Index == part.Bars.Length - 1;
        if (bar.Road.RepeatTimes >= 2) yield return Mei.Is("right", "rptend");
        else if (bar.Road.RightBarline == BarlineStyle.Final || last) yield return Mei.Is("right", "end");
        else if (bar.Road.RightBarline == BarlineStyle.Double) yield return Mei.Is("right", "dbl");
    }

    /// <summary>Signs above and below a bar.</summary>
    public static IEnumerable<XElement> Of(Part part, Bar bar)
    {
        var road = bar.Road;
        var end = Mei.Timestamp(bar.Length, bar.Meter);
        if (road.RepeatTimes > 2) yield return AtEnd($"{road.RepeatTimes} times");
        if (road.ToCoda) yield return AtEnd("to Coda");
        if (road.Fine) yield return AtEnd("Fine");
        if (road.Jump != Jump.None) yield return AtEnd(JumpText(part, road.Jump));

        XElement AtEnd(string text) => Mei.Element(
            "dir",
            Mei.Is("type", "road"),
            Mei.Is("staff", 1),
            Mei.Is("place", "above"),
            Mei.Is("tstamp", end),
            Mei.Element("rend", Mei.Is("halign", "right"), text));
    }

    private static string JumpText(Part part, Jump jump)
    {
        var start = jump == Jump.DaCapo ? "D.C." : "D.S.";
        if (part.Bars.Any(b => b.Road.ToCoda)) return $"{start} al Coda";
        return part.Bars.Any(b => b.Road.Fine) ? $"{start} al Fine" : start;
    }
}
