using System.Runtime.InteropServices;

namespace Seamwright.Engraving.Engines;

/// <summary>Chooses the engraver for this system.</summary>
public static class Engravers
{
    /// <summary>In-process where the script engine has a native library for this system, else a Node.js worker.</summary>
    /// <remarks>Starts nothing yet: the first sheet does.</remarks>
    public static IEngraver ForThisSystem(EngraverFiles? files = null) =>
        V8Engraver.RunsHere ? new V8Engraver(files ?? EngraverFiles.Default) : new NodeEngraver(files ?? EngraverFiles.Default);

    internal static bool IsLinuxX64 =>
        OperatingSystem.IsLinux() && RuntimeInformation.ProcessArchitecture == Architecture.X64;
}
