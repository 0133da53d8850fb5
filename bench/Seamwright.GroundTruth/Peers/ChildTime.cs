using System.Runtime.InteropServices;

namespace Seamwright.GroundTruth.Peers;

/// <summary>Processor time of all child processes that have ended (getrusage of POSIX).</summary>
internal static partial class ChildTime
{
    private const int Children = -1;

    /// <summary>User and system seconds so far.</summary>
    public static double Seconds()
    {
        Span<long> usage = stackalloc long[18];
        if (GetUsage(Children, ref usage[0]) != 0) throw new InvalidOperationException("The system does not tell its processor time.");
        return usage[0] + usage[2] + ((usage[1] + usage[3]) / 1e6);
    }

    [LibraryImport("libc", EntryPoint = "getrusage")]
    private static partial int GetUsage(int who, ref long usage);
}
