using System.Text.RegularExpressions;

namespace Seamwright.Audio.External;

/// <summary>What ffmpeg said, as it stands in our messages.</summary>
internal static partial class FfmpegWords
{
    /// <summary>The first line, without the address in memory that stands before it, and how many more there were; empty where it said nothing.</summary>
    public static string Quoted(string said)
    {
        var lines = said.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        if (lines.Length == 0) return "";
        var first = Tag().Replace(lines[0], "");
        if (first.Length > 120) first = first[..120] + "…";
        return $" (ffmpeg: \"{new string([.. first.Where(c => !char.IsControl(c))])}\"{(lines.Length > 1 ? $" and {lines.Length - 1} more" : "")})";
    }

    [GeneratedRegex(@"^(\[[^\]]*\]\s*)+")]
    private static partial Regex Tag();
}
