using System.Collections.Immutable;
using System.Globalization;

namespace Seamwright.GroundTruth.Peers;

/// <summary><c>aubiopitch</c> of Debian's aubio-tools, as a program: its cost holds the reading of the file.</summary>
internal static class AubioPeer
{
    private const string Program = "aubiopitch";

    /// <summary>All takes; null where the program is missing.</summary>
    /// <param name="method">yinfft or yinfast.</param>
    /// <param name="window">Samples.</param>
    /// <param name="files">WAV files and their rates.</param>
    public static PeerRun? Run(string method, int window, IReadOnlyList<(string Path, int Rate)> files)
    {
        var before = ChildTime.Seconds();
        var tracks = ImmutableArray.CreateBuilder<PeerTrack>();
        foreach (var (path, rate) in files)
        {
            var hop = (int)(0.005 * rate);
            if (Tool.Run(Program, ["-i", path, "-r", "0", "-p", method, "-B", $"{window}", "-H", $"{hop}", "-u", "Hz"]) is not { } text) return null;
            tracks.Add(new PeerTrack(0, hop / (double)rate, [.. text.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(Hertz)]));
        }

        return new PeerRun($"{method} (aubio, {window})", tracks.ToImmutable(), ChildTime.Seconds() - before);
    }

    private static double Hertz(string line) =>
        double.TryParse(line.Split(' ', StringSplitOptions.RemoveEmptyEntries)[^1], CultureInfo.InvariantCulture, out var hz) && hz is > 20 and < 2000 ? hz : 0;
}
