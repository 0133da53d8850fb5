namespace Seamwright.Engraving.Pages;

/// <summary>Breaks text into lines.</summary>
internal static class TextWrap
{
    private const string Cut = "…";

    /// <summary>At least one line, each no wider than allowed; what does not fit into the last one is cut with an ellipsis.</summary>
    /// <param name="text">One line of plain text.</param>
    /// <param name="width">Widest line.</param>
    /// <param name="most">Most lines.</param>
    /// <param name="measure">Width of a text.</param>
    public static IReadOnlyList<string> Lines(string text, double width, int most, Func<string, double> measure)
    {
        var lines = new List<string>();
        var rest = text;
        while (lines.Count < most - 1 && measure(rest) > width)
        {
            var line = Fitting(rest, width, measure);
            lines.Add(line.TrimEnd());
            rest = rest[line.Length..].TrimStart();
        }

        lines.Add(measure(rest) <= width ? rest : Fitting(rest, width - measure(Cut), measure).TrimEnd() + Cut);
        return lines;
    }

    /// <summary>The longest beginning that fits: up to a space where there is one, else as many characters as fit, at least one.</summary>
    private static string Fitting(string text, double width, Func<string, double> measure)
    {
        var ends = System.Globalization.StringInfo.ParseCombiningCharacters(text).Append(text.Length).Skip(1).ToList();
        var (low, high) = (0, ends.Count - 1);
        while (low < high)
        {
            var middle = (low + high + 1) / 2;
            if (measure(text[..ends[middle]]) <= width) low = middle;
            else high = middle - 1;
        }

        var fits = text[..ends[low]];
        var space = fits.Length == text.Length ? -1 : fits.LastIndexOf(' ');
        return space > 0 ? fits[..(space + 1)] : fits;
    }
}
