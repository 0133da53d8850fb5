using System.Text;

namespace Seamwright.Core.Scores.Abc;

/// <summary>A line of a text file.</summary>
/// <param name="Number">From 1.</param>
/// <param name="Text">Without its line end.</param>
internal readonly record struct TextLine(int Number, string Text)
{
    public bool IsEmpty => string.IsNullOrWhiteSpace(Text);

    /// <summary>The letter of the information field that the line is; <c>'\0'</c> for none (ABC 2.1, section 3).</summary>
    public char Field => Text.Length >= 2 && Text[1] == ':' && (char.IsAsciiLetter(Text[0]) || Text[0] == '+') ? Text[0] : '\0';
}

/// <summary>From bytes to lines: UTF-8, else ISO 8859-1; line ends of every system (ABC 2.1, section 8).</summary>
internal static class AbcLines
{
    private static readonly UTF8Encoding Strict = new(false, throwOnInvalidBytes: true);

    public static List<TextLine> Of(byte[] bytes)
    {
        var lines = new List<TextLine>();
        var reader = new StringReader(Text(bytes).Replace('\0', ' '));
        while (reader.ReadLine() is { } line) lines.Add(new TextLine(lines.Count + 1, line.TrimEnd()));
        return lines;
    }

    private static string Text(byte[] bytes)
    {
        var start = bytes.AsSpan().StartsWith(Encoding.UTF8.Preamble) ? 3 : 0;
        try
        {
            return Strict.GetString(bytes, start, bytes.Length - start);
        }
        catch (DecoderFallbackException)
        {
            return Encoding.Latin1.GetString(bytes, start, bytes.Length - start);
        }
    }
}
