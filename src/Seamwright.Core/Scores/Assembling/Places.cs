using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Assembling;

/// <summary>Bars and beats for messages.</summary>
internal static class Places
{
    public static Place Of(string part, RawBar bar, Beats offset) =>
        bar.InText is { } text ? text.At(part, offset) : new(part, Label(bar.Number, bar.Index), BeatAt(bar.Meter, offset));

    public static Place Of(string part, RawBar bar) =>
        bar.InText is { } text ? text.At(part, Beats.Zero) : new(part, Label(bar.Number, bar.Index));

    /// <summary>The printed number, or the place in the part where there is none.</summary>
    public static string Label(string number, int index) => number.Length > 0 ? number : $"#{index + 1}";

    /// <summary>1 for the downbeat, counted in the lower number of the meter.</summary>
    public static Beats BeatAt(Meter meter, Beats offset) => offset.Times(meter.BeatUnit, 4) + Beats.Quarter;
}
