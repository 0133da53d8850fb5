using Seamwright.Audio;
using Seamwright.Core.Listening;

namespace Seamwright.Tests.Cli;

/// <summary>What <c>hear</c> writes where, and what it says where there is nothing to tell.</summary>
public sealed class HearCommandTests(DemoRun demo) : IClassFixture<DemoRun>
{
    private readonly string folder = demo.Folder;

    [Fact]
    public void Two_reports_are_both_written_and_a_sign_no_font_has_is_named()
    {
        string[] reports = [Path.Combine(folder, "a.html"), Path.Combine(folder, "b.pdf")];
        var (code, output, error) = CommandLine.Run("hear", Path.Combine(folder, "take.wav"), "--part", Path.Combine(folder, "evening-ferry.musicxml"), "--report", reports[0], "--report", reports[1], "--for", "李 Ida");
        Assert.True(code == 0, error);
        Assert.All(reports, r => Assert.True(new FileInfo(r).Length > 1000));
        Assert.All(reports, r => Assert.Contains(r, output));
        Assert.Contains("no sign for 李", error.ReplaceLineEndings(" ").Replace("   ", " "));
        Assert.Contains("李 Ida", System.Net.WebUtility.HtmlDecode(File.ReadAllText(reports[0])));
    }

    [Fact]
    public void A_warning_is_said_once_on_a_screen_and_on_the_error_stream_where_the_result_goes_elsewhere()
    {
        string[] hear = ["hear", Sound("tone.wav", t => (float)(t is > 1 and < 1.5 ? 1 : 0.3 * Math.Sin(2 * Math.PI * 233.08 * t)))];
        var (code, text, error) = CommandLine.Run(hear);
        Assert.True(code == 0, error);
        Assert.Contains("is overloaded", text);
        Assert.Empty(error);
        Assert.Contains("is overloaded", CommandLine.Run([.. hear, "--json"]).Error);
        Assert.Contains("is overloaded", CommandLine.Run([.. hear, "-o", Path.Combine(folder, "told.txt")]).Error);
    }

    [Fact]
    public void A_name_without_a_report_is_said_to_be_unused()
    {
        string[] hear = ["hear", Path.Combine(folder, "take.wav"), "--part", CommandLine.Melody("evening-ferry")];
        Assert.Contains("--for is left unused", CommandLine.Run([.. hear, "--for", "Bob"]).Error.Replace(":", "", StringComparison.Ordinal));
        Assert.DoesNotContain("unused", CommandLine.Run(hear).Error);
    }

    [Fact]
    public void The_demo_leaves_its_tune_beside_the_take() =>
        Assert.Equal(File.ReadAllBytes(CommandLine.Melody("evening-ferry")), File.ReadAllBytes(Path.Combine(folder, "evening-ferry.musicxml")));

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_silent_recording_cannot_be_used_and_nothing_is_written(bool withPart)
    {
        string[] targets = [Path.Combine(folder, "silence.json"), Path.Combine(folder, "silence.csv")];
        string[] part = withPart ? ["--part", CommandLine.Melody("evening-ferry")] : [];
        var (code, output, error) = CommandLine.Run(["hear", Sound("silence.wav", _ => 0), .. part, "-o", targets[0], "--track", targets[1]]);
        Assert.Equal(1, code);
        Assert.Empty(output);
        Assert.Contains("nothing is told or written", error.ReplaceLineEndings(" ").Replace("   ", " "));
        Assert.All(targets, t => Assert.False(File.Exists(t)));
    }

    [Fact]
    public void A_tone_that_is_none_of_the_parts_notes_cannot_be_used_with_it()
    {
        var (code, _, error) = CommandLine.Run("hear", Sound("sine.wav", t => (float)(0.3 * Math.Sin(2 * Math.PI * 1000 * t))), "--part", CommandLine.Melody("evening-ferry"));
        Assert.Equal(1, code);
        Assert.Contains("none of the part's notes", error.ReplaceLineEndings(" ").Replace("   ", " "));
    }

    [Fact]
    public void An_attempt_that_is_asked_for_is_told_in_text_json_and_report()
    {
        string[] hear = ["hear", Twice(), "--part", CommandLine.Melody("evening-ferry")];
        var (code, text, error) = CommandLine.Run(hear);
        Assert.True(code == 0, error);
        Assert.Contains("This is attempt 2 of 2, the last of the fullest", text.ReplaceLineEndings(" "));
        Assert.Contains("Attempt 2 against attempt 1: fewer: ", text.ReplaceLineEndings(" "));
        var page = Path.Combine(folder, "first.html");
        var (again, json, wrong) = CommandLine.Run([.. hear, "--attempt", "1", "--json", "--report", page]);
        Assert.True(again == 0, wrong);
        using var told = System.Text.Json.JsonDocument.Parse(json);
        Assert.Equal(1, told.RootElement.GetProperty("summary").GetProperty("attempt").GetInt32());
        Assert.True(told.RootElement.GetProperty("notes")[0].GetProperty("onset").GetDouble() < 2);
        Assert.True(told.RootElement.GetProperty("summary").GetProperty("changeVerdicts").TryGetProperty("smear", out _));
        Assert.Contains("attempt 1 of 2, as asked for", File.ReadAllText(page));
    }

    [Fact]
    public void An_attempt_that_is_not_there_is_named_with_those_that_are()
    {
        string[] hear = ["hear", Path.Combine(folder, "take.wav"), "--part", CommandLine.Melody("evening-ferry"), "--attempt"];
        var (code, output, error) = CommandLine.Run([.. hear, "4"]);
        Assert.Equal(1, code);
        Assert.Empty(output);
        Assert.Contains("holds 1 attempt at the line, so there is no attempt 4", error.ReplaceLineEndings(" ").Replace("   ", " "));
        Assert.Equal(2, CommandLine.Run([.. hear, "0"]).Code);
        Assert.Equal(2, CommandLine.Run("hear", Path.Combine(folder, "take.wav"), "--attempt", "1").Code);
        var next = CommandLine.Run(["next", .. hear[1..], "4"]);
        Assert.Equal(1, next.Code);
        Assert.Contains("there is no attempt 4", next.Error.ReplaceLineEndings(" ").Replace("   ", " "));
        Assert.Equal(2, CommandLine.Run(["next", .. hear[1..], "0"]).Code);
    }

    // The demo's take with its faults, a pause, and the same line without any.
    private string Twice()
    {
        var path = Path.Combine(folder, "twice.wav");
        var plan = Diagnoses.PlayedMelody.Of("evening-ferry").Plan;
        var clean = Core.Sound.Voice.Render(plan, Core.Sound.Playing.WithFaults(plan, new Dictionary<int, Core.Sound.Fault>()));
        using var opened = SoundFile.Open(Path.Combine(folder, "take.wav")).Value;
        var (samples, block) = (new List<float>(), new float[1 << 15]);
        for (var read = opened.Read(block); read > 0; read = opened.Read(block)) samples.AddRange(block.AsSpan(0, read));
        samples.AddRange(new float[2 * opened.Rate.Value]);
        samples.AddRange(clean.Samples.Span);
        using var stream = File.Create(path);
        WavFile.Write(stream, new Recording(samples.ToArray(), opened.Rate));
        return path;
    }

    private string Sound(string name, Func<double, float> at)
    {
        var path = Path.Combine(folder, name);
        using var stream = File.Create(path);
        WavFile.Write(stream, new Recording(Enumerable.Range(0, 32_000).Select(i => at(i / 16_000.0)).ToArray(), new(16_000)));
        return path;
    }
}
