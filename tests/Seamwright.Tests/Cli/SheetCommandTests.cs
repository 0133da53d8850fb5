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
}
