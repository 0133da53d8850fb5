using System.Text.Json;

namespace Seamwright.Tests.Cli;

/// <summary>One run of the demo for all tests here.</summary>
public sealed class DemoRun : IDisposable
{
    public DemoRun() => (Code, Output, Error) = CommandLine.Run("demo", "-o", Folder);

    public string Folder { get; } = Directory.CreateTempSubdirectory("seamwright-demo").FullName;

    public int Code { get; }

    public string Output { get; }

    public string Error { get; }

    public void Dispose() => Directory.Delete(Folder, recursive: true);
}

/// <summary>The whole job, from tune to diagnosis, against what the invented player did on purpose.</summary>
public class DemoTests(DemoRun demo) : IClassFixture<DemoRun>
{
    private readonly string folder = demo.Folder;

    [Fact]
    public void The_demo_finds_every_note_and_measures_what_was_played()
    {
        Assert.True(demo.Code == 0, demo.Error);
        Assert.All(demo.Output.Split('\n'), line => Assert.True(line.TrimEnd().Length <= 80, line));
        foreach (var file in (string[])["sheet.pdf", "plan.json", "take.wav", "diagnosis.txt", "diagnosis.json", "report.html", "report.pdf", "known-faults.json"])
            Assert.True(new FileInfo(Path.Combine(folder, file)).Length > 0, file);

        var heard = Json("diagnosis.json");
        Assert.All(heard.GetProperty("notes").EnumerateArray(), n => Assert.True(n.GetProperty("found").GetBoolean()));
        var known = Json("known-faults.json").GetProperty("changes").EnumerateArray().ToList();
        var changes = heard.GetProperty("changes").EnumerateArray().ToList();
        Assert.Equal(known.Count, changes.Count);
        // While one resonance gives way to another the two beat, and what a window of 13 ms shows of it hangs on their phases.
        var one = known.Zip(changes).Where(p => p.First.GetProperty("onePartial").GetBoolean()).ToList();
        Within("dipDb", 1.5, [.. one.Select(p => p.First)], [.. one.Select(p => p.Second)]);
        var dips = Differences("dipDb", known, changes);
        Assert.True(dips.Count(d => d <= 1.5) >= 0.95 * dips.Count, string.Join(" ", dips));
        Within("tongueOffsetMs", 10, known, changes);
        Within("glideMs", 10, [.. one.Select(p => p.First)], [.. one.Select(p => p.Second)]);

        // Where the pitch jumps, what is left of the way is shorter than any window: the figure says so by its interval.
        Assert.All(known.Zip(changes).Where(p => !p.First.GetProperty("onePartial").GetBoolean()), p => Assert.True(IsNear(p.First, p.Second), $"change {p.First.GetProperty("index")}"));
        Assert.All(known.Zip(changes).Where(p => p.First.GetProperty("played").GetString() == "clean"), p => Assert.Equal("clean", Verdicts(p.Second)));
    }

    [Theory]
    [InlineData("smeared", "smear")]
    [InlineData("late tongue", "tongue-late")]
    [InlineData("early tongue", "tongue-early")]
    [InlineData("hard tongue", "bump")]
    [InlineData("no tongue", "no-tongue")]
    [InlineData("air stopped", "air-stopped")]
    [InlineData("cracked", "cracked")]
    public void Each_known_fault_gets_its_verdict(string played, string verdict)
    {
        var known = Json("known-faults.json").GetProperty("changes").EnumerateArray().Where(c => c.GetProperty("played").GetString() == played).ToList();
        Assert.NotEmpty(known);
        var changes = Json("diagnosis.json").GetProperty("changes").EnumerateArray().ToList();
        Assert.All(known, k => Assert.Contains(verdict, Verdicts(changes[k.GetProperty("index").GetInt32()])));
    }

    [Fact]
    public void Hear_reads_the_demos_recording_and_writes_json_text_and_report()
    {
        var (wav, part) = (Path.Combine(folder, "take.wav"), CommandLine.Melody("evening-ferry"));
        var (code, json, _) = CommandLine.Run("hear", wav, "--part", part, "--json");
        Assert.Equal(0, code);
        Assert.Equal("seamwright.take/1", JsonDocument.Parse(json).RootElement.GetProperty("schema").GetString());
        var page = Path.Combine(folder, "page.html");
        var (textCode, text, _) = CommandLine.Run("hear", wav, "--part", part, "--report", page);
        Assert.Equal(0, textCode);
        Assert.Contains("Work on first", text);
        Assert.Contains("<svg", File.ReadAllText(page));
        Assert.Contains("Report: ", text);
    }

    [Fact]
    public void A_report_for_a_pupil_bears_the_name_on_page_and_paper_and_the_music_marked()
    {
        var (wav, part) = (Path.Combine(folder, "take.wav"), CommandLine.Melody("evening-ferry"));
        foreach (var (file, paper) in new[] { ("for.html", "a4"), ("for.pdf", "letter") })
        {
            var (code, _, error) = CommandLine.Run("hear", wav, "--part", part, "--report", Path.Combine(folder, file), "--for", "Ida <3", "--paper", paper);
            Assert.True(code == 0, error);
        }

        var page = File.ReadAllText(Path.Combine(folder, "for.html"));
        Assert.Contains("For Ida <3 · Tenor trombone in B♭ with F attachment · take.wav", System.Net.WebUtility.HtmlDecode(page));
        Assert.DoesNotContain("Ida <3", page);
        Assert.Contains("The line of music, system 1 of ", page);
        using var pdf = UglyToad.PdfPig.PdfDocument.Open(Path.Combine(folder, "for.pdf"));
        Assert.Equal(612, pdf.GetPage(1).Width, 0.01);
        Assert.Contains("For Ida <3", pdf.GetPage(1).Text);
        var parts = Json("diagnosis.json").ToString();
        Assert.DoesNotContain("Ida", parts);
    }

    [Fact]
    public void A_report_that_cannot_be_put_there_is_told_and_nothing_is_harmed()
    {
        var (wav, part) = (Path.Combine(folder, "take.wav"), CommandLine.Melody("evening-ferry"));
        var before = new FileInfo(wav).Length;
        var (kind, _, unclear) = CommandLine.Run("hear", wav, "--part", part, "--report", Path.Combine(folder, "report.docx"));
        Assert.Equal(2, kind);
        Assert.Contains("does not end in .html or .pdf", unclear);
        var link = Path.Combine(folder, "take.pdf");
        File.Copy(part, link, overwrite: true);
        var (same, _, clash) = CommandLine.Run("hear", wav, "--part", link, "--report", link);
        Assert.Equal(1, same);
        Assert.Contains("is the file that was read", clash);
        foreach (var name in (string[])["page.html", "page.pdf"])
        {
            var (nowhere, _, unwritable) = CommandLine.Run("hear", wav, "--part", part, "--report", Path.Combine(wav, name));
            Assert.Equal(1, nowhere);
            Assert.Contains("cannot be written", unwritable);
        }

        Assert.Equal(before, new FileInfo(wav).Length);
    }

    [Fact]
    public void Hear_says_that_it_is_another_tune_and_keeps_the_recording()
    {
        var wav = Path.Combine(folder, "take.wav");
        var (code, text, error) = CommandLine.Run("hear", wav, "--part", CommandLine.Melody("deep-well-for-bass"), "-i", "bass-independent");
        Assert.Equal(1, code);
        Assert.Empty(text);
        Assert.Contains("none of the part's notes", error.ReplaceLineEndings(" ").Replace("   ", " "));
        var length = new FileInfo(wav).Length;
        Assert.Equal(1, CommandLine.Run("hear", wav, "--part", CommandLine.Melody("evening-ferry"), "-o", wav).Code);
        Assert.Equal(length, new FileInfo(wav).Length);
    }

    [Fact]
    public void Hear_needs_a_recording_that_is_one()
    {
        Assert.Equal(2, CommandLine.Run("hear").Code);
        var (code, _, error) = CommandLine.Run("hear", CommandLine.Melody("evening-ferry"), "--part", CommandLine.Melody("evening-ferry"));
        Assert.Equal(1, code);
        Assert.Contains("WAV", error);
    }

    [Fact]
    public void Hear_without_a_part_reads_the_notes_off_the_recording_and_says_that_none_was_given()
    {
        var (wav, csv) = (Path.Combine(folder, "take.wav"), Path.Combine(folder, "free.csv"));
        var (code, json, _) = CommandLine.Run("hear", wav, "--json", "--track", csv);
        Assert.Equal(0, code);
        var heard = JsonDocument.Parse(json).RootElement;
        Assert.Equal("seamwright.take/1", heard.GetProperty("schema").GetString());
        Assert.False(heard.GetProperty("part").GetBoolean());
        Assert.InRange(heard.GetProperty("a4Hz").GetDouble(), 439, 441);
        var asked = Json("diagnosis.json").GetProperty("notes").EnumerateArray().Select(n => n.GetProperty("onset").GetDouble()).ToList();
        var found = heard.GetProperty("notes").EnumerateArray().Select(n => n.GetProperty("onset").GetDouble()).ToList();
        Assert.True(asked.Count(a => found.Exists(f => Math.Abs(f - a) < 0.05)) >= 0.99 * asked.Count);
        Assert.True(File.ReadLines(csv).Count() > 1000);
        var (textCode, text, _) = CommandLine.Run("hear", wav);
        Assert.Equal(0, textCode);
        Assert.Contains("No part was given", text);
        Assert.DoesNotContain("bar ", text);
        Assert.All(text.Split('\n'), line => Assert.True(line.TrimEnd().Length <= 80, line));
        Assert.Equal(2, CommandLine.Run("hear", wav, "--report", Path.Combine(folder, "no.html")).Code);
    }

    // Within 10 ms, or within its own 90 % interval; nothing where either has no glide.
    private static bool IsNear(JsonElement known, JsonElement heard)
    {
        if (!known.TryGetProperty("glideMs", out var k) || k.ValueKind != JsonValueKind.Number || !heard.TryGetProperty("glideMs", out var h) || h.ValueKind != JsonValueKind.Number) return true;
        var (made, interval) = (k.GetDouble(), heard.GetProperty("glideMsInterval"));
        return Math.Abs(made - h.GetDouble()) <= 10 || (made >= interval[0].GetDouble() && made <= interval[1].GetDouble());
    }

    private static List<double> Differences(string figure, List<JsonElement> known, List<JsonElement> heard) =>
        [.. known.Zip(heard).Where(p => p.First.TryGetProperty(figure, out _) && p.Second.TryGetProperty(figure, out _))
            .Select(p => Math.Abs(p.First.GetProperty(figure).GetDouble() - p.Second.GetProperty(figure).GetDouble()))];

    private static void Within(string figure, double limit, List<JsonElement> known, List<JsonElement> heard)
    {
        var compared = 0;
        foreach (var (k, h) in known.Zip(heard))
        {
            if (!k.TryGetProperty(figure, out var truth) || !h.TryGetProperty(figure, out var measured)) continue;
            compared++;
            Assert.True(Math.Abs(truth.GetDouble() - measured.GetDouble()) <= limit, $"change {k.GetProperty("index")}: {figure} {measured} for {truth}");
        }

        Assert.True(3 * compared >= known.Count, $"only {compared} compared");
    }

    private static string Verdicts(JsonElement change) =>
        string.Join(" ", change.GetProperty("verdicts").EnumerateArray().Select(v => v.GetString()));

    private JsonElement Json(string file) => JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, file))).RootElement;
}
