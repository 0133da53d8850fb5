using System.Globalization;
using System.Net;
using System.Text;
using Seamwright.Core.Scores.Assembling;

namespace Seamwright.Core.Scores.Abc;

/// <summary>Text strings: accents, named characters and comments (ABC 2.1, sections 2.2.5 and 8.2).</summary>
internal static class TextStrings
{
    private const string Accents = "`'^~\"cAa/uvH";
    private const string Combining = "\u0300\u0301\u0302\u0303\u0308\u0327\u030A\u030A\u0338\u0306\u030C\u030B";

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

        var accent = Accents.IndexOf(rest[0], StringComparison.Ordinal);
        if (accent >= 0 && rest.Length > 1 && char.IsAsciiLetter(rest[1]))
        {
            plain.Append($"{rest[1]}{Combining[accent]}".Normalize(NormalizationForm.FormC));
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
