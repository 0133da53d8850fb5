using System.Text.RegularExpressions;

namespace Seamwright.Tests;

/// <summary>Data flows down this list and never back.</summary>
public partial class LayeringTests
{
    private static readonly string[] Order =
    [
        "Seamwright.Core", "Seamwright.Core.Units", "Seamwright.Core.Instruments", "Seamwright.Core.Scores", "Seamwright.Core.Planning",
        "Seamwright.Core.Exercises", "Seamwright.Core.Sound", "Seamwright.Core.Listening", "Seamwright.Core.Calibration", "Seamwright.Core.Diagnosis",
        "Seamwright.Engraving", "Seamwright.Audio", "Seamwright.Film", "Seamwright.Pack", "Seamwright.Studio", "Seamwright.Cli",
    ];

    [Fact]
    public void No_stage_reaches_back()
    {
        var backward = SourceFiles().SelectMany(f => References(f).Where(r => Rank(r) > Rank(f.Room)).Select(r => $"{f.Path} ({f.Room}) uses {r}")).ToList();
        Assert.Empty(backward);
    }

    [Fact]
    public void Every_room_has_its_place_in_the_order() =>
        Assert.All(SourceFiles(), f => Assert.True(Rank(f.Room) >= 0, f.Path));

    private static int Rank(string room)
    {
        // The most specific name wins: Seamwright.Core.Scores.MusicXml belongs to Scores.
        var best = -1;
        for (var i = 0; i < Order.Length; i++)
        {
            if ((room == Order[i] || room.StartsWith(Order[i] + ".", StringComparison.Ordinal)) && (best < 0 || Order[i].Length > Order[best].Length)) best = i;
        }

        return best;
    }

    private static IEnumerable<(string Path, string Room, string Text)> SourceFiles()
    {
        var src = Path.Combine(Repository.Root, "src");
        foreach (var path in Directory.EnumerateFiles(src, "*.cs", SearchOption.AllDirectories))
        {
            var text = File.ReadAllText(path);
            var room = Namespace().Match(text);
            if (room.Success) yield return (Path.GetRelativePath(src, path), room.Groups[1].Value, text);
        }
    }

    private static IEnumerable<string> References((string Path, string Room, string Text) file) =>
        Using().Matches(file.Text).Select(m => m.Groups[1].Value).Concat(QualifiedNames(file.Text)).Where(r => Rank(r) >= 0).Distinct();

    // Half-qualified names such as Scores.Clef inside Seamwright.Core.
    private static IEnumerable<string> QualifiedNames(string text) =>
        Order.Where(o => o.StartsWith("Seamwright.Core.", StringComparison.Ordinal))
            .Where(o => Regex.IsMatch(text, $@"(?<![\w.]){Regex.Escape(o["Seamwright.Core.".Length..])}\.[A-Z]\w+"));

    [GeneratedRegex(@"^namespace (Seamwright[\w.]*);", RegexOptions.Multiline)]
    private static partial Regex Namespace();

    [GeneratedRegex(@"^using (?:static )?(Seamwright[\w.]*);", RegexOptions.Multiline)]
    private static partial Regex Using();
}
