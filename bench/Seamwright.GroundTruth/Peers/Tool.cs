using System.Diagnostics;

namespace Seamwright.GroundTruth.Peers;

/// <summary>A program that is run to its end, without a shell.</summary>
internal static class Tool
{
    /// <summary>What it writes; null where it is not installed.</summary>
    /// <exception cref="InvalidDataException">It fails.</exception>
    public static string? Run(string program, IEnumerable<string> arguments, string? folder = null)
    {
        try
        {
            using var process = Process.Start(new ProcessStartInfo(program, arguments)
            {
                RedirectStandardOutput = true,
                RedirectStandardError = true,
                WorkingDirectory = folder ?? "",
            })!;
            var complaint = process.StandardError.ReadToEndAsync();
            var output = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            return process.ExitCode == 0 ? output : throw new InvalidDataException($"{program} failed: {complaint.Result}");
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return null;
        }
    }
}
