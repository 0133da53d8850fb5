using Seamwright.Core.Scores.Assembling;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Abc;

internal enum RoadSign
{
    Segno, Coda, ToCoda, Fine, DaCapo, DalSegno,
}

/// <summary>Signs of the road through the piece, put on their bars when all of them are known.</summary>
/// <remarks>The standard has one coda sign for two things. Of several, all but the last mean "to coda"; a single one is the coda itself
/// (common practice). A segno or coda at the very end of a bar stands at the left edge of the next.</remarks>
internal sealed class RoadSigns
{
    private readonly List<(RawBar Bar, Beats Offset, RoadSign Sign)> signs = [];

    public void Add(RawBar bar, Beats offset, RoadSign sign) => signs.Add((bar, offset, sign));

    /// <summary>Settles every sign.</summary>
    /// <param name="part">Whose last bar holds something.</param>
    public void Settle(RawPart part)
    {
        var last = signs.FindLastIndex(s => s.Sign == RoadSign.Coda);
        for (var i = 0; i < signs.Count; i++)
        {
            var (bar, offset, sign) = signs[i];
            if (sign == RoadSign.Coda && i < last) sign = RoadSign.ToCoda;
            var index = Math.Min(bar.Index, part.Bars.Count - 1);
            var leftEdge = sign is RoadSign.Segno or RoadSign.Coda;

            // Words after the last bar line belong to the bar before it.
            if (leftEdge && offset > Beats.Zero && offset >= bar.Extent) index++;
            if (index >= part.Bars.Count || (leftEdge && bar.Index >= part.Bars.Count)) continue;
            part.Bars[index].Road = With(part.Bars[index].Road, sign);
        }
    }

    private static BarRoad With(BarRoad road, RoadSign sign) => sign switch
    {
        RoadSign.Segno => road with { Segno = true },
        RoadSign.Coda => road with { Coda = true },
        RoadSign.ToCoda => road with { ToCoda = true },
        RoadSign.Fine => road with { Fine = true },
        RoadSign.DaCapo => road with { Jump = Jump.DaCapo },
        _ => road with { Jump = Jump.DalSegno },
    };
}
