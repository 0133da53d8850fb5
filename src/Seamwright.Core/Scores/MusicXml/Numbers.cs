using System.Globalization;
using System.Numerics;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.MusicXml;

/// <summary>Numbers as files write them; anything else is null.</summary>
internal static class Numbers
{
    // Six decimals keep every fraction's denominator small, so that a hostile file cannot make exact sums expensive.
    private const int Million = 1_000_000;

    public static int? Whole(string? text) =>
        int.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowLeadingWhite | NumberStyles.AllowTrailingWhite, CultureInfo.InvariantCulture, out var n) ? n : null;

    public static decimal? Decimal(string? text) =>
        decimal.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingWhite | NumberStyles.AllowTrailingWhite, CultureInfo.InvariantCulture, out var n)
            ? n : null;

    /// <summary>A duration in divisions as quarter notes.</summary>
    /// <param name="text">A number within ± a thousand million.</param>
    /// <param name="divisions">Divisions of a quarter note, more than 0.</param>
    public static Beats? Duration(string? text, int divisions)
    {
        if (Decimal(text) is not { } n || Math.Abs(n) > 1_000_000_000m) return null;
        return n == decimal.Truncate(n)
            ? new Beats(new BigInteger(n), divisions)
            : new Beats(new BigInteger(decimal.Round(n * Million)), new BigInteger(divisions) * Million);
    }
}
