using System.Text.Json;
using System.Xml.Linq;

namespace Seamwright.Tests.Cli;

public sealed class SheetCommandTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("seamwright-sheet").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void Musicxml_marks_each_change_at_the_note_it_leads_to()
    {
        var (target, melody) = (Path.Combine(folder, "marked.musicxml"), CommandLine.Melody("evening-ferry"));
        Assert.Equal(0, CommandLine.Run("sheet", melody, "-o", target, "--syllable", "loo").Code);
        var changes = JsonDocument.Parse(CommandLine.Run("plan", melody, "--json").Output).RootElement.GetProperty("changes").EnumerateArray().ToList();
        var notes = XDocument.Load(target).Descendants("note").Where(n => n.Element("rest") is null).ToList();
        for (var i = 0; i < 10; i++)
        {
            var soft = i > 0 && changes[i - 1].GetProperty("kind").GetString() == "soft-tongue";
            Assert.Equal(soft, notes[i].Elements("lyric").Any(l => l.Element("text")?.Value == "loo"));
        }
    }

    [Fact]
    public void A_sheet_of_no_known_kind_is_wrong_usage() =>
        Assert.Equal(2, CommandLine.Run("sheet", CommandLine.Melody("evening-ferry"), "-o", Path.Combine(folder, "sheet.docx")).Code);

    [Theory]
    [InlineData("plan")]
    [InlineData("sheet")]
    public void The_file_that_was_read_is_never_replaced(string command)
    {
        var own = Path.Combine(folder, "own.musicxml");
        File.Copy(CommandLine.Melody("evening-ferry"), own);
        var before = File.ReadAllBytes(own);
        var (code, _, error) = CommandLine.Run(command, own, "-o", Path.Combine(folder, ".", "own.musicxml"));
        Assert.Equal(1, code);
        Assert.Contains("is not replaced", error.ReplaceLineEndings(" "));
        Assert.Equal(before, File.ReadAllBytes(own));
    }

    [Fact]
    public void A_fixed_clef_holds_in_musicxml_too()
    {
        var target = Path.Combine(folder, "tenor.musicxml");
        Assert.Equal(0, CommandLine.Run("sheet", CommandLine.Melody("evening-ferry"), "-o", target, "--clef", "tenor").Code);
        var clef = Assert.Single(XDocument.Load(target).Descendants("clef"));
        Assert.Equal(("C", "4"), (clef.Element("sign")!.Value, clef.Element("line")!.Value));
    }

    [Fact]
    public void A_repeat_that_alone_needs_the_tongue_says_so_in_brackets()
    {
        var target = Path.Combine(folder, "lock.svg");
        Assert.Equal(0, CommandLine.Run("sheet", CommandLine.Melody("evening-ferry"), "-o", target, "--lock", "12=5", "--syllable", "loo").Code);
        var text = string.Concat(XDocument.Load(target).Descendants().Where(e => e.Name.LocalName is "text").Select(e => e.Value + " "));
        Assert.Contains("[loo]", text);
        Assert.Contains("on the repeat", text);
    }
}
