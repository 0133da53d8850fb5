namespace Seamwright.Cli;

/// <summary>What the shell is told.</summary>
internal static class ExitCode
{
    /// <summary>Done; faults in the playing are not errors.</summary>
    public const int Done = 0;

    /// <summary>The input could not be used; the message says why.</summary>
    public const int BadInput = 1;

    /// <summary>The command line itself is wrong.</summary>
    public const int WrongUsage = 2;
}
