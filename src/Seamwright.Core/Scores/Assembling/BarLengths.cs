using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Assembling;

/// <summary>Decides how long each bar is: as its meter says, or shorter on purpose, or wrong.</summary>
/// <remarks>Short on purpose (common practice): an upbeat, that is the first bar or one marked as not counted; the bar that
/// makes it whole, at the end or before a repeat sign; and the two parts of a bar that a repeat sign or double bar divides.</remarks>
internal static class BarLengths
{
    public static void Settle(RawPart part, ProblemLog log)
    {
        if (part.Bars.Exists(b => b.MeterUnknown && b.Extent > Beats.Zero))
            log.Note(new Place(part.Name), "The file begins without a time signature; each bar gets the one that fits its notes.");
        foreach (var bar in part.Bars.Where(b => b.MeterUnknown)) bar.Meter = Fitting(bar.Extent) ?? bar.Meter;
        foreach (var bar in part.Bars) bar.IsPickup = IsShort(bar) && IsUpbeat(part, bar);
        var upbeats = part.Bars.Where(b => b.IsPickup).Select(b => b.Extent).ToHashSet();
        foreach (var bar in part.Bars)
        {
            bar.IsPickup |= IsShort(bar) && CompletesUpbeat(part, bar, upbeats);
            bar.Length = bar.IsPickup ? bar.Extent : LengthOf(part, bar, log);
        }
    }

    private static Meter? Fitting(Beats length)
    {
        var unit = 4 * length.Denominator;
        return length > Beats.Zero && unit.IsPowerOfTwo && unit <= 64 && length.Numerator <= 64 ? new Meter((int)length.Numerator, (int)unit) : null;
    }

    private static Beats LengthOf(RawPart part, RawBar bar, ProblemLog log)
    {
        var full = bar.Meter.BarLength;
        if (bar.Extent == Beats.Zero) return full;
        if (bar.SenzaMisura) return bar.Extent;
        if (bar.Extent == full) return full;
        var held = $"{bar.Extent} of {full} quarter notes";
        if (bar.Extent > full)
        {
            log.Warn(Places.Of(part.Name, bar), "A bar is longer than its meter; it is kept at the length of its notes.", "Check the bar in the program the file comes from.", held);
            return bar.Extent;
        }

        log.Warn(Places.Of(part.Name, bar), "A bar is shorter than its meter; it is filled with rests.", "Mark an upbeat as such, or complete the bar.", held);
        return full;
    }

    private static bool IsShort(RawBar bar) => !bar.SenzaMisura && bar.Extent > Beats.Zero && bar.Extent < bar.Meter.BarLength;

    private static bool IsUpbeat(RawPart part, RawBar bar) =>
        bar.Index == 0 || bar.Implicit
        || (bar.Index + 1 < part.Bars.Count && IsSplit(bar, part.Bars[bar.Index + 1]))
        || IsSplit(part.Bars[bar.Index - 1], bar);

    private static bool IsSplit(RawBar first, RawBar second) =>
        IsShort(first) && IsShort(second) && first.Extent + second.Extent == first.Meter.BarLength
        && (first.Road.RepeatTimes > 0 || second.Road.RepeatStarts || first.Road.RightBarline != BarlineStyle.Regular || second.Implicit);

    private static bool CompletesUpbeat(RawPart part, RawBar bar, HashSet<Beats> upbeats)
    {
        var road = bar.Road;
        var last = bar.Index == part.Bars.Count - 1;
        var atAnEdge = last || road.RepeatTimes > 0 || road.EndingStops || road.Jump != Jump.None || road.Fine || road.RightBarline != BarlineStyle.Regular
            || part.Bars[bar.Index + 1].Road.RepeatStarts;
        return atAnEdge && upbeats.Contains(bar.Meter.BarLength - bar.Extent);
    }
}
