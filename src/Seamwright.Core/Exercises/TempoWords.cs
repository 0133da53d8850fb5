using System.Globalization;
using Seamwright.Core.Scores;

namespace Seamwright.Core.Exercises;

/// <summary>Tempos as a metronome is set for them: by the beat of the meter.</summary>
public static class TempoWords
{
    private const double DottedQuarter = 1.5;

    /// <summary>A tempo of music, for instance <c>♩ = 60</c>; <c>♩. = 40</c> where three eighth notes are a beat, <c>half note = 30</c> where two quarters are; each where it has bars of several kinds.</summary>
    /// <param name="part">With at least one bar.</param>
    /// <param name="quartersPerMinute">More than 0.</param>
    public static string Of(Part part, double quartersPerMinute)
    {
        var words = part.Bars.Select(b => b.Meter).OrderBy(m => IsInThrees(m) || m.BeatUnit < 4).Select(m => Of(m, quartersPerMinute)).Distinct();
        return string.Join(", ", words);
    }

    /// <summary>A tempo in one meter; in threes and halves the nearest whole number, as metronomes have them.</summary>
    /// <param name="meter">Any.</param>
    /// <param name="quartersPerMinute">More than 0.</param>
    public static string Of(Meter meter, double quartersPerMinute) => IsInThrees(meter) ? $"♩. = {Math.Round(quartersPerMinute / DottedQuarter)}"
        : meter.BeatUnit == 2 ? $"half note = {Math.Round(quartersPerMinute / 2)}" : $"♩ = {Number(quartersPerMinute)}";

    /// <summary>Whether the beat of a meter is a dotted quarter note: 6/8, 9/8, 12/8.</summary>
    public static bool IsInThrees(Meter meter) => meter.BeatUnit == 8 && meter.Beats > 3 && meter.Beats % 3 == 0;

    private static string Number(double tempo) => tempo.ToString("0.#", CultureInfo.InvariantCulture);
}
