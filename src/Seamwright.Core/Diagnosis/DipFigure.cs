using Seamwright.Core.Listening;

namespace Seamwright.Core.Diagnosis;

/// <summary>How deep a dip is, as it is told: where it may have no bottom, only what it is deeper than.</summary>
internal static class DipFigure
{
    private const double NearDeepest = 0.5;

    /// <summary>Decibels, where the interval reaches down to where no dip is told from silence; else null.</summary>
    public static double? DeeperThan(HeardChange heard)
    {
        if (heard.DipBounds is not { } b || b.High.Value < Dips.Deepest - NearDeepest) return null;
        return heard.EarGapInterval is { Low.Value: > 0 } ? Math.Max(ChangeMeter.Silent, b.Low.Value) : b.Low.Value;
    }

    /// <summary>For instance <c>12 dB</c>, or <c>&gt;17 dB</c>; a dash where none was measured.</summary>
    public static string Of(HeardChange heard, string format = "0", string unit = "dB") =>
        heard.Dip is not { } dip ? "-" : (DeeperThan(heard) is { } low ? $">{low.ToString(format)} {unit}" : $"{dip.Value.ToString(format)} {unit}").TrimEnd();
}
