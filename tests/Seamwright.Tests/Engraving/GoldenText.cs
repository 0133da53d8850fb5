using System.Runtime.CompilerServices;

namespace Seamwright.Tests.Engraving;

/// <summary>Approved text beside the test that uses it; UPDATE_GOLDEN=1 rewrites it, except where CI=true.</summary>
internal static class GoldenText
{
    public static void Matches(string name, string actual, [CallerFilePath] string test = "")
    {
        var path = Path.Combine(Path.GetDirectoryName(test)!, "Golden", name);
        if (Environment.GetEnvironmentVariable("UPDATE_GOLDEN") == "1")
        {
            Assert.False(Environment.GetEnvironmentVariable("CI") == "true", "Golden files are not rewritten in CI.");
            File.WriteAllText(path, actual.ReplaceLineEndings("\n") + "\n");
        }

        Assert.True(File.Exists(path), $"There is no golden file {name}; look at the output and write it with UPDATE_GOLDEN=1.");
        Assert.Equal(File.ReadAllText(path).TrimEnd(), actual.ReplaceLineEndings("\n").TrimEnd());
    }
}
