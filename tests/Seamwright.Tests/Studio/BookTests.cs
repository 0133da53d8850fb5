using System.IO.Compression;
using System.Net;
using System.Text;
using Seamwright.Core.Scores.Midi;
using Seamwright.Core.Scores.MusicXml;

namespace Seamwright.Tests.Studio;

public class BookTests
{
    [Fact]
    public async Task Exercises_are_collected_put_in_order_printed_and_packed()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var first = await workbench.PostAsync("/books/add?kind=slide-then-tongue&level=2", Workbench.Form(("book", "0")));
        Assert.Equal("/books/1", first.Headers.Location!.OriginalString);
        await workbench.PostAsync("/books/add?kind=three-passes&level=2&key=Bb", Workbench.Form(("book", "1")));
        await workbench.PostAsync("/books/1", Workbench.Form(("title", "For the autumn"), ("for", "Mira"), ("paper", "letter")));
        await workbench.PostAsync("/books/1/line/1", Workbench.Form(("do", "up"), ("chapter", "Scales first")));
        var page = await workbench.TextAsync("/books/1");
        Assert.InRange(page.IndexOf("three passes, B♭", StringComparison.Ordinal), 1, page.IndexOf("slide then tongue", StringComparison.Ordinal));
        Assert.Contains("For the autumn", page);
        using var pack = new ZipArchive(new MemoryStream(await workbench.MadeAsync("/books/1/pack")));
        Assert.NotNull(pack.GetEntry("book.pdf"));
        Assert.Equal(pack.Entries.Count(e => e.FullName.EndsWith(".musicxml", StringComparison.Ordinal)), pack.Entries.Count(e => e.FullName.EndsWith(".opus", StringComparison.Ordinal)));
        using var index = new StreamReader(pack.GetEntry("index.html")!.Open());
        Assert.Contains("Scales first", await index.ReadToEndAsync(TestContext.Current.CancellationToken));
        await workbench.PostAsync("/books/1/line/0", Workbench.Form(("do", "out")));
        Assert.DoesNotContain("three passes", await workbench.TextAsync("/books/1"));
    }

    [Fact]
    public async Task A_book_whose_piece_went_says_which_line_cannot_be_made()
    {
        await using var workbench = await Workbench.StartAsync();
        await workbench.PostAsync("/books/add?kind=from-tune&level=6&piece=1", Workbench.Form(("book", "0")));
        await workbench.PostAsync("/music/1/remove", null);
        var answer = await workbench.PostAsync("/books/1/print", null);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        Assert.Contains("line 1, from tune", WebUtility.HtmlDecode(await answer.TextAsync()));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await workbench.PostAsync("/books/add?kind=yodel", Workbench.Form(("book", "0")))).StatusCode);
    }

    [Fact]
    public async Task A_piece_is_taken_along_as_music_sound_and_all_in_one()
    {
        await using var workbench = await Workbench.StartAsync();
        using var xml = new MemoryStream(await (await workbench.GetAsync("/music/1/part.musicxml")).BytesAsync());
        var score = MusicXmlReader.Read(xml, "part");
        Assert.True(score.Succeeded);
        using var mid = new MemoryStream(await (await workbench.GetAsync("/music/1/part.mid")).BytesAsync());
        Assert.True(MidiReader.Read(mid, "part").Succeeded);
        Assert.StartsWith("OggS", Encoding.Latin1.GetString(await workbench.MadeAsync("/music/1/sound")));
        using var pack = new ZipArchive(new MemoryStream(await workbench.MadeAsync("/music/1/pack")));
        Assert.Equal(["part.mid", "part.musicxml", "play-along.cues.txt", "play-along.opus", "play-along.time-map.json", "sheet.pdf"], pack.Entries.Select(e => e.FullName).Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task Work_that_is_stopped_leaves_nothing_and_leads_back()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        await workbench.PostAsync("/books/add?kind=three-passes&level=4&key=all", Workbench.Form(("book", "0")));
        var begun = await workbench.PostAsync("/books/1/pack", null);
        var work = begun.Headers.Location!.OriginalString;
        Assert.StartsWith("/work/", work);
        Assert.Contains("<progress", await workbench.PageAsync(work));
        Assert.Equal("/books/1", (await workbench.PostAsync($"{work}/stop", null)).Headers.Location!.OriginalString);
        HttpResponseMessage after;
        do
        {
            await Task.Delay(100, TestContext.Current.CancellationToken);
            after = await workbench.GetAsync(work);
        }
        while (after.StatusCode == HttpStatusCode.OK && (await after.TextAsync()).Contains("<progress", StringComparison.Ordinal));
        Assert.Equal("/books/1", after.Headers.Location!.OriginalString);
        Assert.Equal(HttpStatusCode.NotFound, (await workbench.GetAsync($"{work}/file")).StatusCode);
    }

    [Fact]
    public async Task Work_of_another_run_of_the_workbench_is_told_to_be_gone()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var answer = await workbench.GetAsync("/work/8");
        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
        Assert.Contains("begin it again", await answer.TextAsync());
    }
}
