using System.Diagnostics;
using System.Text.Json;

namespace Seamwright.Tests.Scores;

/// <summary>What packages of others make of a file (tests/corpus/outside.js, run by Node.js).</summary>
/// <param name="Format">Of the MIDI file.</param>
/// <param name="Tracks">Note number, start and length in quarter notes, for each track with notes.</param>
/// <param name="Tempos">Place and quarter notes a minute.</param>
/// <param name="Meters">Place, upper and lower number.</param>
/// <param name="Keys">Place, sharps, and 1 for minor.</param>
/// <param name="Names">Of tracks.</param>
/// <param name="Midi">The file's bytes.</param>
internal sealed record Outside(int Format, double[][][] Tracks, double[][] Tempos, double[][] Meters, double[][] Keys, string[] Names, byte[] Midi)
{
    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web);

    /// <summary>Asks about ABC tunes, which are made MIDI first, or about MIDI files; skips the test where the packages are not installed.</summary>
    public static IReadOnlyList<Outside> Read(IEnumerable<string>? abc = null, IEnumerable<byte[]>? midi = null)
    {
        var folder = Path.Combine(Files.Root, "tests", "corpus");
        if (!Directory.Exists(Path.Combine(folder, "node_modules", "midi-file"))) Assert.Skip("reason: no packages of others; run npm ci in tests/corpus.");
        var questions = (abc ?? []).Select(a => new Dictionary<string, object> { ["abc"] = a }).Concat((midi ?? []).Select(m => new Dictionary<string, object> { ["midi"] = m }));
        return JsonSerializer.Deserialize<List<Outside>>(OutsideProgram.Run(new ProcessStartInfo("node", "outside.js") { WorkingDirectory = folder }, JsonSerializer.Serialize(questions)).Well().Text, Json)!;
    }
}
