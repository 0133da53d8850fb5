using Microsoft.AspNetCore.Components;
using Seamwright.Core.Instruments;
using Seamwright.Core.Units;

namespace Seamwright.Studio.Features.Instruments;

/// <summary>What one tube of an instrument plays, position by position.</summary>
internal static class SlideChart
{
    private const double Tuned = 2; // cents that nobody hears

    /// <summary>Rows from closed outward, as far as the slide goes.</summary>
    /// <param name="horn">The instrument.</param>
    /// <param name="side">One of its tubes.</param>
    /// <param name="partials">The columns.</param>
    /// <returns>The position as sheets print it, by the open horn's places; centimetres out, and a cell for each partial, empty where it is too far off.</returns>
    public static IEnumerable<(string Label, double Travel, IReadOnlyList<MarkupString> Notes)> Of(Instrument horn, Side side, IEnumerable<int> partials)
    {
        for (var semitone = 0; Tube.TravelFor(side.EffectiveLength, semitone) is var travel && travel.Value <= horn.FurthestTravel.Value; semitone++)
            yield return (PositionLabel.Of(side, horn.PositionAt(travel), semitone), travel.Value, [.. partials.Select(n => Cell(horn, side, n, semitone, travel))]);
    }

    private static MarkupString Cell(Instrument horn, Side side, int partial, int semitone, Centimetres travel)
    {
        var sounding = horn.Sounding(side, partial, travel);
        var exact = 69 + (12 * Math.Log2(sounding.Value / horn.A4.Value));
        var pitch = Pitch.FromMidi((int)Math.Round(exact));
        var off = sounding.Above(pitch.Frequency(horn.A4)).Value;
        if (Math.Abs(off) > horn.LargestResidual.Value) return new("");
        return new(Math.Abs(off) < Tuned ? pitch.ToDisplay() : $"{pitch.ToDisplay()} <small>{off:+0;−0}</small>");
    }
}
