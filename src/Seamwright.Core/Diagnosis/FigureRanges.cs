using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace Seamwright.Core.Diagnosis;

/// <summary>Sentences that differ only in their figures, told as one that spans them all.</summary>
internal static partial class FigureRanges
{
    /// <summary>One sentence for each wording, in order of the first of each.</summary>
    public static IEnumerable<string> Merged(IEnumerable<string> sentences) =>
        sentences.GroupBy(Wording).Select(g => One([.. g]));

    /// <summary>A sentence without its figures.</summary>
    public static string Wording(string sentence) => Figure().Replace(sentence, "0");

    private static string One(List<string> alike)
    {
        var figures = alike.ConvertAll(s => Figure().Matches(s).Select(m => m.Value).ToArray());
        var told = new StringBuilder();
        var (at, slot) = (0, 0);
        foreach (Match here in Figure().Matches(alike[0]))
        {
            var before = alike[0][at..here.Index];
            var after = alike[0][(here.Index + here.Length)..];
            var sorted = figures.Select(f => f[slot]).DistinctBy(Number).OrderBy(Number).ToList();
            told.Append(before).Append(sorted switch
            {
                [var same] => same,
                _ when IsRange(after) => sorted[0],
                _ when slot > 0 && before == To => sorted[^1],
                _ => $"{sorted[0]} to {sorted[^1]}",
            });
            (at, slot) = (here.Index + here.Length, slot + 1);
        }

        return told.Append(alike[0][at..]).ToString();
    }

    private const string To = " to ";

    // The lower end of a range.
    private static bool IsRange(string after) => after.StartsWith(To, StringComparison.Ordinal) && Figure().Match(after) is { Success: true, Index: 4 };

    private static double Number(string figure) => double.Parse(figure.Replace('−', '-'), CultureInfo.InvariantCulture);

    // Not the octave in a note's name.
    [GeneratedRegex(@"(?<![\p{L}♭♯\d.])[−+-]?\d+(\.\d+)?")]
    private static partial Regex Figure();
}
