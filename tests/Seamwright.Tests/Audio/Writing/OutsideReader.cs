namespace Seamwright.Tests.Audio.Writing;

/// <summary>The system's ffprobe as an outside reader of tags.</summary>
internal static class OutsideReader
{
    public const string Program = "/usr/bin/ffprobe";

    /// <summary>name=text, of the file and of its stream.</summary>
    public static List<string> Tags(string path)
    {
        var said = OutsideProgram.Run(Program, "-v", "error", "-show_entries", "format_tags:stream_tags", "-of", "default=nw=1", path).Text;
        return [.. said.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(l => l.Replace("TAG:", "", StringComparison.Ordinal))];
    }
}
