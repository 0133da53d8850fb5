using System.Diagnostics;
using System.Text.Json;

namespace Seamwright.Tests.Exercises;

/// <summary>A general music-theory library (tests/theory/package.json, npm, MIT), asked through Node.</summary>
internal static class TheoryReference
{
    private static readonly JsonSerializerOptions Wire = new(JsonSerializerDefaults.Web);

    private static readonly string Folder = Path.Combine(Repository.Root, "tests", "theory");

    /// <summary>Answers of the library, in the order of the questions; skips the test where Node or the library is absent.</summary>
    public static Answers Ask(Questions questions)
    {
        if (!Directory.Exists(Path.Combine(Folder, "node_modules", "tonal"))) Assert.Skip("reason: no music-theory library to compare with; run npm ci in tests/theory.");
        var text = OutsideProgram.Run(new ProcessStartInfo("node", [Path.Combine(Folder, "answer.mjs")]), JsonSerializer.Serialize(questions, Wire)).Well().Text;
        return JsonSerializer.Deserialize<Answers>(text, Wire)!;
    }

    /// <summary>Tonic and scale, root and chord, tonics, note and interval, two notes.</summary>
    public sealed record Questions
    {
        public IReadOnlyList<string[]> Scales { get; init; } = [];

        public IReadOnlyList<string[]> Chords { get; init; } = [];

        public IReadOnlyList<string> Majors { get; init; } = [];

        public IReadOnlyList<string> Minors { get; init; } = [];

        public IReadOnlyList<string[]> Moved { get; init; } = [];

        public IReadOnlyList<string[]> Between { get; init; } = [];
    }

    /// <summary>Note names, signatures (sharps positive), notes, letters and semitones.</summary>
    public sealed record Answers(string[][] Scales, string[][] Chords, int[] Majors, int[] Minors, string[] Moved, int?[][] Between);
}
