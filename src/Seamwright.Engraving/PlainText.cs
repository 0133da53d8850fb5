using System.Globalization;
using System.Text;

namespace Seamwright.Engraving;

/// <summary>Text from outside, made fit for a sheet.</summary>
internal static class PlainText
{
    /// <summary>One line: control characters, broken surrogates and characters XML forbids are gone, white space is single.</summary>
    public static string OneLine(string? text)
    {
        var clean = new StringBuilder();
        foreach (var rune in (text ?? "").EnumerateRunes())
        {
            if (rune == Rune.ReplacementChar || rune.Value is 0xFFFE or 0xFFFF) continue;
            if (Rune.IsWhiteSpace(rune)) clean.Append(' ');
            else if (!Rune.IsControl(rune)) clean.Append(rune);
        }

        return string.Join(' ', clean.ToString().Split(' ', StringSplitOptions.RemoveEmptyEntries));
    }

    /// <summary>As <see cref="OneLine"/>, cut after a number of visible characters.</summary>
    public static string Short(string? text, int most)
    {
        var line = OneLine(text);
        var visible = new StringInfo(line);
        return visible.LengthInTextElements <= most ? line : visible.SubstringByTextElements(0, most);
    }
}
