using Seamwright.Cli;

namespace Seamwright.Tests.Cli;

/// <summary>Runs one command line in this process.</summary>
internal static class CommandLine
{
    public static (int Code, string Output, string Error) Run(params string[] args)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        var code = SeamwrightCommand.Run(args, new Terminal(output, error, 80), TimeProvider.System);
        return (code, output.ToString(), error.ToString());
    }

    /// <summary>One of the invented melodies.</summary>
    public static string Melody(string name) => Path.Combine(Repository.Root, "src", "Seamwright.Cli", "Melodies", name + ".musicxml");

    /// <summary>All of the invented melodies.</summary>
    public static IEnumerable<string> Melodies() => Directory.EnumerateFiles(Path.GetDirectoryName(Melody("x"))!, "*.musicxml").Order();
}
