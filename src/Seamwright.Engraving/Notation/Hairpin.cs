using System.Xml.Linq;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Engraving.Notation;

/// <summary>A crescendo or diminuendo with both its ends.</summary>
/// <param name="Bar">Index of the bar it begins in.</param>
/// <param name="From">Offset in that bar.</param>
/// <param name="Growing">Whether it is a crescendo.</param>
/// <param name="EndBar">Index of the bar it ends in.</param>
/// <param name="To">Offset in that bar.</param>
internal sealed record Hairpin(int Bar, Beats From, bool Growing, int EndBar, Beats To)
{
    /// <summary>Every hairpin of a part; one without a written end reaches to the next dynamic or hairpin, or to the last bar line.</summary>
    public static IEnumerable<Hairpin> In(Part part)
    {
        var signs = part.Bars
            .SelectMany(b => b.Directions.Where(d => d.Kind is not (DirectionKind.Words or DirectionKind.RehearsalMark)).Select(d => (Bar: b.Index, Direction: d)))
            .OrderBy(s => s.Bar).ThenBy(s => s.Direction.Offset).ThenBy(s => IsHairpin(s.Direction)).ToList();
        var last = part.Bars[^1];
        for (var i = 0; i < signs.Count; i++)
        {
            var (bar, sign) = signs[i];
            if (!IsHairpin(sign)) continue;
            var end = signs.Skip(i + 1).Where(s => (s.Bar, s.Direction.Offset).CompareTo((bar, sign.Offset)) > 0)
                .Select(s => (s.Bar, s.Direction.Offset)).DefaultIfEmpty((last.Index, last.Length)).First();
            if ((bar, sign.Offset).CompareTo(end) < 0) yield return new(bar, sign.Offset, sign.Kind == DirectionKind.Crescendo, end.Item1, end.Item2);
        }
    }

    /// <summary>Hung on notes where there are some: then the engraver leaves room for the dynamics at both ends.</summary>
    public XElement ToElement(Part part) => Mei.Element(
        "hairpin",
        Mei.Is("form", Growing ? "cres" : "dim"),
        Mei.Is("staff", 1),
        Mei.Is("place", "below"),
        Mei.Is("vgrp", 1),
        At(part.Bars[Bar], From) is { } start ? Mei.Is("startid", "#" + start) : Mei.Is("tstamp", Mei.Timestamp(From, part.Bars[Bar].Meter)),
        At(part.Bars[EndBar], To) is { } end ? Mei.Is("endid", "#" + end) : Mei.Is("tstamp2", $"{EndBar - Bar}m+{Mei.Timestamp(To, part.Bars[EndBar].Meter)}"));

    private static string? At(Bar bar, Beats offset) => bar.Events.LastOrDefault(e => e.Offset == offset && e is not Rest { FillsBar: true })?.Id;

    private static bool IsHairpin(Direction direction) => direction.Kind is DirectionKind.Crescendo or DirectionKind.Diminuendo;
}
