using System.Runtime.CompilerServices;

namespace Seamwright.Tests;

/// <summary>Approved texts beside the tests: rewritten with UPDATE_GOLDEN=1, never in CI.</summary>
internal static class Golden
{
    /// <summary>Compares a text with <c>Golden/NAME</c> in the calling test's folder.</summary>
    public static void Check(string name, string actual, [CallerFilePath] string caller = "")
    {
        var relative = Path.GetRelativePath(Path.Combine(Repository.Root, "tests", "Seamwright.Tests"), caller);
        var folder = Path.Combine(Repository.Root, "tests", "Seamwright.Tests", Path.GetDirectoryName(relative)!, "Golden");
        var path = Path.Combine(folder, name);
        var text = actual.ReplaceLineEndings("\n").TrimEnd() + "\n";
        if (Environment.GetEnvironmentVariable("UPDATE_GOLDEN") == "1")
        {
            Assert.False(Environment.GetEnvironmentVariable("CI") == "true", "Golden files are not rewritten in CI.");
            Directory.CreateDirectory(folder);
            File.WriteAllText(path, text);
            return;
        }

        Assert.True(File.Exists(path), $"There is no {path}; write it with UPDATE_GOLDEN=1 and read it.");
        Assert.Equal(File.ReadAllText(path), text);
    }
}
