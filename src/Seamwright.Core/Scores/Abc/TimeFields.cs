using System.Globalization;
using System.Numerics;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Abc;

/// <summary>Meter, unit note length and tempo (ABC 2.1, sections 3.1.6 to 3.1.8 and 10.1).</summary>
internal static class TimeFields
{
    /// <summary>Reads <c>6/8</c>, <c>C</c>, <c>C|</c> or <c>(2+3+2)/8</c>.</summary>
    /// <param name="text">The field's value.</param>
    /// <param name="free">Whether it says that there is no meter.</param>
    /// <returns>Null where it cannot be used, or there is none.</returns>
    public static Meter? Meter(string text, out bool free)
    {
        var value = text.Replace(" ", "", StringComparison.Ordinal);
        free = value is "none" or "";
        if (value == "C") return new Meter(4, 4, MeterSymbol.Common);
        if (value == "C|") return new Meter(2, 2, MeterSymbol.Cut);
        var parts = value.Split('/');
        if (parts.Length != 2 || Whole(parts[1]) is not (>= 1 and <= 64) || Whole(parts[1]) is not { } unit || !BitOperations.IsPow2(unit)) return null;
        var groups = parts[0].Trim('(', ')').Split('+').Select(Whole).ToList();
        if (groups.Any(g => g is not (>= 1 and <= 64)) || groups.Sum() > 64) return null;
        return new Meter(groups.Sum()!.Value, unit).Grouped(groups.ConvertAll(g => g!.Value));
    }

    /// <summary>The unit note length where no field gives one.</summary>
    public static Beats UsualUnit(Meter? meter) => meter is { } m && m.BarLength < new Beats(3, 1) ? new Beats(1, 4) : new Beats(1, 2);

    /// <summary>Reads <c>1/8</c> or <c>1</c>; null where it is no length from a whole note to a 512th.</summary>
    public static Beats? Unit(string text)
    {
        var parts = text.Replace(" ", "", StringComparison.Ordinal).Split('/');
        if (parts.Length > 2 || Whole(parts[0]) is not 1) return null;
        var by = parts.Length == 1 ? 1 : Whole(parts[1]);
        return by is >= 1 and <= 512 && BitOperations.IsPow2(by.Value) ? new Beats(4, by.Value) : null;
    }

    /// <summary>Reads <c>1/4=120</c>, <c>"Allegro" 1/4 3/8=40</c>, <c>"Andante"</c>, or the old <c>120</c> and <c>C3=40</c>.</summary>
    /// <param name="text">The field's value.</param>
    /// <param name="at">Place in the bar.</param>
    /// <param name="unit">Unit note length.</param>
    /// <returns>Null where it cannot be used.</returns>
    public static TempoText? Tempo(string text, Beats at, Beats unit)
    {
        var scan = new Scan(text, 0);
        var (words, rest) = ("", "");
        while (!scan.Ended)
        {
            if (scan.Take('"')) words += " " + (scan.Until('"') ?? scan.Rest());
            else rest += scan.Run(c => c != '"');
        }

        words = TextStrings.Plain(words.Trim());
        if (rest.Trim().Length == 0) return words.Length == 0 ? null : new TempoText(at, null, words, null);
        var sides = rest.Split('=');
        if (sides.Length > 2 || !double.TryParse(sides[^1].Trim(), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var count)) return null;
        if ((sides.Length == 1 ? unit : Beat(sides[0], unit)) is not { } beat) return null;
        var quarters = count * beat.ToDouble();
        return quarters is >= 1 and <= 1000 ? new TempoText(at, quarters, words, Shapes.Exact(beat)) : null;
    }

    private static Beats? Beat(string text, Beats unit)
    {
        var words = text.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        if (words.Length == 1 && words[0][0] == 'C') return words[0].Length == 1 ? unit : Whole(words[0][1..]) is >= 1 and <= 64 and { } times ? unit * times : null;
        var sum = Beats.Zero;
        foreach (var word in words)
        {
            if (Fraction(word) is not { } beat) return null;
            sum += beat;
        }

        return sum > Beats.Zero && words.Length <= 4 ? sum : null;
    }

    private static Beats? Fraction(string text)
    {
        var parts = text.Split('/');
        return parts.Length == 2 && Whole(parts[0]) is >= 1 and <= 64 and { } n && Whole(parts[1]) is >= 1 and <= 512 and { } d ? new Beats(4 * n, d) : null;
    }

    private static int? Whole(string text) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var n) ? n : null;
}
