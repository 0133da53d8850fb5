namespace Seamwright.Tests.Audio.Writing;

/// <summary>A temporary folder to write into.</summary>
public sealed class WritingFolder : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory();

    public string Path(string name) => System.IO.Path.Combine(folder.FullName, name);

    public string[] Names() => [.. folder.GetFiles().Select(f => f.Name).Order()];

    /// <summary>A program that stands in for ffmpeg.</summary>
    public string Script(string what)
    {
        if (!File.Exists("/bin/sh")) Assert.Skip("reason: no shell for the stand-in");
        var tools = folder.CreateSubdirectory("tools");
        var path = System.IO.Path.Combine(tools.FullName, $"stand-in-{Math.Abs(what.GetHashCode(StringComparison.Ordinal))}");
        File.WriteAllText(path, "#!/bin/sh\n" + what + "\n");
        if (!OperatingSystem.IsWindows()) File.SetUnixFileMode(path, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        return path;
    }

    public void Dispose() => folder.Delete(recursive: true);
}
