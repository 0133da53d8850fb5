using System.Collections.Immutable;
using System.Text.Json;

namespace Seamwright.GroundTruth.Peers;

/// <summary>Trackers of the npm registry, run by <c>trackers/track.mjs</c>, which measures its own time.</summary>
internal static class NodePeer
{
    private sealed record Answer(double Cpu, ImmutableArray<Track> Tracks);

    private sealed record Track(double Start, double Hop, ImmutableArray<double> Hz);

    /// <summary>Whether the packages are there; <c>npm ci</c> in the folder brings them.</summary>
    public static bool IsThere => Directory.Exists(Path.Combine(Folder, "node_modules"));

    public static string Folder { get; } = FindFolder();

    /// <summary>All takes; null where node or the packages are missing.</summary>
    /// <param name="tracker">pitchy or essentia.</param>
    /// <param name="label">For the table.</param>
    /// <param name="files">WAV files.</param>
    public static PeerRun? Run(string tracker, string label, IReadOnlyList<(string Path, int Rate)> files)
    {
        if (!IsThere) return null;
        var output = Path.Combine(Path.GetTempPath(), $"seamwright-{tracker}-{Environment.ProcessId}.json");
        try
        {
            if (Tool.Run("node", ["track.mjs", tracker, output, .. files.Select(f => Path.GetFullPath(f.Path))], Folder) is null) return null;
            var answer = JsonSerializer.Deserialize<Answer>(File.ReadAllText(output), JsonSerializerOptions.Web)!;
            return new PeerRun(label, [.. answer.Tracks.Select(t => new PeerTrack(t.Start, t.Hop, t.Hz))], answer.Cpu);
        }
        finally
        {
            File.Delete(output);
        }
    }

    // From wherever the program runs, up to the sources.
    private static string FindFolder()
    {
        var inside = Path.Combine("bench", "Seamwright.GroundTruth", "Peers", "trackers");
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (Directory.Exists(Path.Combine(folder.FullName, inside))) return Path.Combine(folder.FullName, inside);
        return inside;
    }
}
