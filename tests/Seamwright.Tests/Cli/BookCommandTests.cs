using System.IO.Compression;
using System.Text.RegularExpressions;
using UglyToad.PdfPig;

namespace Seamwright.Tests.Cli;

public sealed partial class BookCommandTests : IDisposable
{
    private const string Small = """
        {"schema":"seamwright.book/1","title":"Two & <two>","level":4,"exercises":[
          {"chapter":"First","kind":"two-notes","positions":"1-2","tempos":[120]},
          {"kind":"three-passes","keys":"B","scale":"lydian","way":"up","tempos":[100]}]}
        """;

    private readonly string folder = Directory.CreateTempSubdirectory("seamwright-book").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    private string At(string name) => Path.Combine(folder, name);

    private string Recipe(string json, string name = "recipe.json")
    {
        File.WriteAllText(At(name), json);
        return At(name);
    }

    [Fact]
    public void A_recipe_to_begin_with_makes_a_book()
    {
        Assert.Equal(0, CommandLine.Run("book", "--init", At("mine.json")).Code);
        Assert.Equal(1, CommandLine.Run("book", "--init", At("mine.json")).Code);
        var (code, output, error) = CommandLine.Run("book", At("mine.json"), "-o", At("mine.pdf"));
        Assert.Equal(0, code);
        Assert.Contains("Engraving: 100 %", error);
        Assert.Contains("Joined and clear", output);
        using var pdf = PdfDocument.Open(At("mine.pdf"));
        Assert.InRange(pdf.NumberOfPages, 5, 12);
    }

    [Fact]
    public void A_pack_holds_book_page_sound_and_music_and_is_the_same_twice()
    {
        var recipe = Recipe(Small);
        Assert.Equal(0, CommandLine.Run("book", recipe, "-o", At("a.pdf"), "--pack", At("a.zip"), "--sound").Code);
        Assert.Equal(0, CommandLine.Run("book", recipe, "-o", At("b.pdf"), "--pack", At("b.zip")).Code);
        Assert.Equal(File.ReadAllBytes(At("a.pdf")), File.ReadAllBytes(At("b.pdf")));
        Assert.Equal(File.ReadAllBytes(At("a.zip")), File.ReadAllBytes(At("b.zip")));
        Assert.Equal(2, Directory.GetFiles(folder, "a-*.opus").Length);
        using var zip = ZipFile.OpenRead(At("a.zip"));
        Assert.Equal(6, zip.Entries.Count);
        using var page = new StreamReader(zip.GetEntry("index.html")!.Open());
        var html = page.ReadToEnd();
        var links = Link().Matches(html).Select(m => m.Groups[1].Value.Split('#')[0]).Distinct().ToList();
        Assert.Equal(zip.Entries.Select(e => e.FullName).Where(n => n != "index.html").Order(), links.Order());
        Assert.Contains("Two &amp; &lt;two&gt;", html);
        Assert.DoesNotContain("http", html, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void A_chapter_whose_first_lines_are_left_out_begins_with_the_next()
    {
        var recipe = Recipe("""
            {"schema":"seamwright.book/1","level":4,"instrument":"tenor-straight","exercises":[
              {"chapter":"First","kind":"one-note"},
              {"chapter":"Valves","kind":"valve-slurs"},
              {"kind":"two-notes","positions":"1-2"},
              {"kind":"two-notes","positions":"1-2"}]}
            """);
        var (code, _, error) = CommandLine.Run("book", recipe, "-o", At("c.pdf"));
        Assert.Equal(0, code);
        Assert.Contains("in the book already", System.Text.RegularExpressions.Regex.Replace(error, "\\s+", " "));
        using var pdf = PdfDocument.Open(At("c.pdf"));
        Assert.True(pdf.TryGetBookmarks(out var marks));
        Assert.Equal(["First", "Valves"], marks.Roots.Skip(1).Select(r => r.Title));
        Assert.Equal(2, marks.GetNodes().Count(n => char.IsAsciiDigit(n.Title[0])));
    }

    [Fact]
    public void What_a_recipe_bans_must_be_there_and_every_mistake_is_told_at_once()
    {
        var recipe = Recipe("""
            {"schema":"seamwright.book/1","player":{"ban":"Q"},"exercises":[
              {"kind":"one-note","tempos":[80,60],"colour":"red"}]}
            """);
        var (code, _, error) = CommandLine.Run("book", recipe, "-o", At("c.pdf"));
        Assert.Equal(1, code);
        Assert.All(["$.player.ban", "is no tempo ladder", "colour"], words => Assert.Contains(words, error));
        Assert.Equal(2, CommandLine.Run("book", recipe, "-o", At("c.pdf"), "--sound-as", "mp3").Code);
    }

    [Fact]
    public void The_recipe_says_what_its_play_alongs_are()
    {
        long Seconds(string sound)
        {
            var recipe = Recipe($$"""{"schema":"seamwright.book/1","sound":{{sound}},"exercises":[{"kind":"two-notes","positions":"1-2","note":"Bb3","tempos":[120,160]}]}""", "sound.json");
            Assert.Equal(0, CommandLine.Run("book", recipe, "-o", At("s.pdf"), "--sound", "--sound-as", "wav").Code);
            return new FileInfo(Directory.GetFiles(folder, "s-*.wav").Single()).Length;
        }

        var (both, one, mine) = (Seconds("{}"), Seconds("""{"ladder":"quickest"}"""), Seconds("""{"ladder":"quickest","turns":"you"}"""));
        Assert.InRange((double)one / both, 0.35, 0.5);
        Assert.InRange((double)mine / one, 0.5, 0.8);
    }

    [Fact]
    public void A_line_that_nobody_can_play_is_left_out_and_told()
    {
        var recipe = Recipe("""{"schema":"seamwright.book/1","level":1,"exercises":[{"kind":"three-passes","keys":"C","octaves":2},{"kind":"one-note"}]}""");
        var (code, output, error) = CommandLine.Run("book", recipe, "-o", At("x.pdf"));
        Assert.Equal(0, code);
        Assert.Contains("$.exercises[0]", error);
        Assert.Contains("One note", output);
        Assert.Equal(1, CommandLine.Run("book", Recipe("""{"schema":"seamwright.book/1","level":1,"exercises":[{"kind":"three-passes","keys":"C","octaves":2}]}"""), "-o", At("y.pdf")).Code);
        Assert.False(File.Exists(At("y.pdf")));
    }

    [Fact]
    public void What_a_recipe_names_is_looked_for_and_never_replaced()
    {
        var missing = CommandLine.Run("book", Recipe("""{"schema":"seamwright.book/1","image":"no.png","instrument":"kazoo","exercises":[{"kind":"one-note"}]}"""), "-o", At("x.pdf"));
        Assert.Equal(1, missing.Code);
        Assert.Contains("kazoo", missing.Error);
        Assert.Contains("no.png", missing.Error);
        File.WriteAllBytes(At("x.pdf"), Convert.FromBase64String("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAIAAACQd1PeAAAADElEQVR4nGP4z8AAAAMBAQDJ/pLvAAAAAElFTkSuQmCC"));
        var before = File.ReadAllBytes(At("x.pdf"));
        var clash = CommandLine.Run("book", Recipe("""{"schema":"seamwright.book/1","image":"x.pdf","exercises":[{"kind":"one-note"}]}"""), "-o", At("x.pdf"));
        Assert.Equal(1, clash.Code);
        Assert.Contains("is not replaced", string.Join(' ', clash.Error.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)));
        Assert.Equal(before, File.ReadAllBytes(At("x.pdf")));
    }

    [Fact]
    public void A_tune_beside_the_recipe_becomes_exercises()
    {
        File.Copy(CommandLine.Melody("evening-ferry"), At("tune.musicxml"));
        var (code, output, _) = CommandLine.Run("book", Recipe("""{"schema":"seamwright.book/1","level":6,"exercises":[{"kind":"from-tune","tune":"tune.musicxml","count":2}]}"""), "-o", At("x.pdf"));
        Assert.Equal(0, code);
        Assert.Contains("Evening Ferry", output);
        var none = CommandLine.Run("book", Recipe("""{"schema":"seamwright.book/1","exercises":[{"kind":"from-tune","tune":"none.musicxml"}]}"""), "-o", At("y.pdf"));
        Assert.Equal(1, none.Code);
        Assert.Contains("none.musicxml", none.Error);
        var unnamed = CommandLine.Run("book", Recipe("""{"schema":"seamwright.book/1","exercises":[{"kind":"one-note","tune":"tune.musicxml"}]}"""), "-o", At("y.pdf"));
        Assert.Contains("$.exercises[0].tune: means nothing", unnamed.Error);
    }

    [GeneratedRegex("(?:href|src)=\"([^\"]+)\"")]
    private static partial Regex Link();
}
