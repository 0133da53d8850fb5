using Seamwright.Core;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;
using Seamwright.Core.Scores.MusicXml;

namespace Seamwright.Tests.Scores;

/// <summary>Open MusicXML files that others wrote: published packages carry them as test data (see tests/corpus/package.json).</summary>
public class RegistryCorpusTests
{
    private static readonly string[] Endings = [".musicxml", ".xml", ".mxl"];

    [Fact]
    public void Every_open_file_reads_and_plays_or_says_why_not()
    {
        var files = FilesOrSkip();
        var played = 0;
        foreach (var file in files)
        {
            var outcome = Read(file);
            if (!outcome.Succeeded)
            {
                Assert.Contains(outcome.Problems, p => p.Severity == Severity.Error && p.What.Length > 0);
                continue;
            }

            Whole.Check(outcome.Value);
            Assert.InRange(outcome.Problems.Length, 0, 101);
            foreach (var part in outcome.Value.Parts.Where(p => p.Notes.Any()))
            {
                var line = Unfolder.Play(part, file);
                Assert.True(line.Succeeded, $"{file}: {string.Join("; ", line.Problems)}");
            }

            if (PartChooser.Choose(outcome.Value, Catalogue.Default).Succeeded) played++;
        }

        Assert.True(played * 2 > files.Count, $"Only {played} of {files.Count} files could be played.");
    }

    [Fact]
    public void A_file_and_its_compressed_twin_hold_the_same_music()
    {
        var pairs = FilesOrSkip().Where(f => f.EndsWith(".mxl", StringComparison.Ordinal)).Select(f => (Packed: f, Plain: Path.ChangeExtension(f, ".xml"))).Where(p => File.Exists(p.Plain)).ToList();
        if (pairs.Count == 0) Assert.Skip("reason: the corpus holds no compressed file with a plain twin.");
        foreach (var (packed, plain) in pairs) Assert.Equal(Dump.Of(Read(plain).Value), Dump.Of(Read(packed).Value));
    }

    [Fact]
    public void What_is_written_from_an_open_file_is_valid_and_reads_back_the_same()
    {
        var schema = OpenSchema.OrSkip();
        foreach (var file in FilesOrSkip())
        {
            if (Read(file) is not { Succeeded: true, Value: var score }) continue;
            Assert.Empty(schema.Errors(Files.Written(score)));
            foreach (var part in score.Parts)
            {
                var alone = score with { Parts = [part] };
                Assert.Equal(Dump.Of(alone), Dump.Of(Files.Read(Files.Written(alone)).Value));
            }
        }
    }

    private static Outcome<Score> Read(string file)
    {
        using var content = File.OpenRead(file);
        return MusicXmlReader.Read(content, Path.GetFileName(file));
    }

    private static List<string> FilesOrSkip()
    {
        var folder = Environment.GetEnvironmentVariable("SEAMWRIGHT_CORPUS") ?? Path.Combine(Files.Root, "tests", "corpus", "node_modules");
        var files = Directory.Exists(folder)
            ? Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories).Where(f => Endings.Contains(Path.GetExtension(f))).Order(StringComparer.Ordinal).ToList()
            : [];
        if (files.Count == 0) Assert.Skip($"reason: no open MusicXML files; run npm ci in tests/corpus, or set SEAMWRIGHT_CORPUS.");
        return files;
    }
}
