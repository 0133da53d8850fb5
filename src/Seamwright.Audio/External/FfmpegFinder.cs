namespace Seamwright.Audio.External;

/// <summary>Looks for the program ffmpeg.</summary>
public static class FfmpegFinder
{
    /// <summary>The whole path of the program, or null where there is none.</summary>
    /// <param name="setting">A path; empty for none; null to look on the path.</param>
    public static string? Find(string? setting)
    {
        if (setting is not null) return setting.Length > 0 && File.Exists(setting) ? Path.GetFullPath(setting) : null;
        var name = OperatingSystem.IsWindows() ? "ffmpeg.exe" : "ffmpeg";

        // Relative places would let the folder that one happens to be in decide what is run.
        return (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)
            .Where(Path.IsPathFullyQualified).Select(folder => Path.Combine(folder, name)).FirstOrDefault(File.Exists);
    }
}
