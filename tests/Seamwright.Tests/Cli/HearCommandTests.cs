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

    private string Sound(string name, Func<double, float> at)
    {
        var path = Path.Combine(folder, name);
        using var stream = File.Create(path);
        WavFile.Write(stream, new Recording(Enumerable.Range(0, 32_000).Select(i => at(i / 16_000.0)).ToArray(), new(16_000)));
        return path;
    }
}
