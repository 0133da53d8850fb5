using System.Globalization;
using System.Net;
using System.Text;
using Seamwright.Core.Scores.Assembling;

namespace Seamwright.Core.Scores.Abc;

/// <summary>Text strings: accents, named characters and comments (ABC 2.1, sections 2.2.5 and 8.2).</summary>
internal static class TextStrings
{
    // By accent: plain letters, then the accented ones. Normalisation is not at hand where the program runs without cultures.
    private static readonly Dictionary<char, (string Plain, string Accented)> Accents = new()
    {
        ['`'] = ("AEIOUaeiouNn", "ÀÈÌÒÙàèìòùǸǹ"),
        ['\''] = ("AEIOUYaeiouyCcLlNnRrSsZz", "ÁÉÍÓÚÝáéíóúýĆćĹĺŃńŔŕŚśŹź"),
        ['^'] = ("AEIOUaeiouCcGgHhJjSsWwYy", "ÂÊÎÔÛâêîôûĈĉĜĝĤĥĴĵŜŝŴŵŶŷ"),
        ['~'] = ("ANOanoIiUu", "ÃÑÕãñõĨĩŨũ"),
        ['"'] = ("AEIOUYaeiouy", "ÄËÏÖÜŸäëïöüÿ"),
        ['c'] = ("CcGgKkLlNnRrSsTt", "ÇçĢģĶķĻļŅņŖŗŞşŢţ"),
        ['A'] = ("A", "Å"),
        ['a'] = ("a", "å"),
        ['u'] = ("AaEeGgIiOoUu", "ĂăĔĕĞğĬĭŎŏŬŭ"),
        ['v'] = ("CcDdEeNnRrSsTtZz", "ČčĎďĚěŇňŘřŠšŤťŽž"),
        ['H'] = ("OoUu", "ŐőŰű"),
    };

    private static readonly (string Code, string Letter)[] Ligatures =
        [("ss", "ß"), ("AE", "Æ"), ("ae", "æ"), ("oe", "œ"), ("OE", "Œ"), ("/O", "Ø"), ("/o", "ø")];

    /// <summary>A line up to its comment, which begins at a percent sign without a backslash.</summary>
    public static string WithoutComment(string line)
    {
        for (var i = 0; i < line.Length; i++)
        {
            if (line[i] == '%' && (i == 0 || line[i - 1] != '\\')) return line[..i].TrimEnd();
        }

        return line;
    }

    /// <summary>What a reader sees, on one line.</summary>
    public static string Plain(string text)
    {
        var plain = new StringBuilder();
        for (var i = 0; i < text.Length; i++)
        {
            if (text[i] == '\\' && i + 1 < text.Length) i += Escaped(text.AsSpan(i + 1), plain);
            else if (text[i] == '$' && i + 1 < text.Length && char.IsAsciiDigit(text[i + 1])) i++;
            else plain.Append(text[i]);
        }

        return OneLine.Of(WebUtility.HtmlDecode(plain.ToString()));
    }

    // Returns how many characters after the backslash were used.
    private static int Escaped(ReadOnlySpan<char> rest, StringBuilder plain)
    {
        if (Unicode(rest) is var (letter, used) && used > 0)
        {
            plain.Append(letter);
            return used;
        }

        foreach (var (code, ligature) in Ligatures)
        {
            if (!rest.StartsWith(code)) continue;
            plain.Append(ligature);
            return code.Length;
        }

        if (rest.Length > 1 && char.IsAsciiLetter(rest[1]) && Accents.TryGetValue(rest[0], out var letters))
        {
            var place = letters.Plain.IndexOf(rest[1], StringComparison.Ordinal);
            plain.Append(place < 0 ? rest[1] : letters.Accented[place]);
            return 2;
        }

        // An ampersand written so begins no named character.
        plain.Append(rest[0] == '&' ? "&amp;" : rest[..1]);
        return 1;
    }

    private static (string Letter, int Used) Unicode(ReadOnlySpan<char> rest)
    {
        var digits = rest[0] switch { 'u' => 4, 'U' => 8, _ => 0 };
        if (digits == 0 || rest.Length <= digits || !int.TryParse(rest.Slice(1, digits), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out var code)) return ("", 0);
        return Rune.IsValid(code) ? (new Rune(code).ToString(), digits + 1) : ("", digits + 1);
    }
}
