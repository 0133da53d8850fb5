using System.Text;

namespace Seamwright.Core.Scores.Assembling;

/// <summary>Text out of a file, made fit for one line of a sheet or a message.</summary>
internal static class OneLine
{
    private const int LongestText = 200;

    /// <summary>One line of text: blanks run together, bounded in length.</summary>
    public static string Of(string? text)
    {
        var line = new StringBuilder();
        foreach (var c in text ?? "")
        {
            if (line.Length >= LongestText) break;
            if (!char.IsWhiteSpace(c)) line.Append(c);
            else if (line.Length > 0 && line[^1] != ' ') line.Append(' ');
        }

        return line.ToString().TrimEnd();
    }
}
