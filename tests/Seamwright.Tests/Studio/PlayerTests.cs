using System.IO.Compression;
using System.Net;
using System.Text.Json;
using Seamwright.Audio;
using Seamwright.Core.Listening;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Studio;

public class PlayerTests
{
    [Fact]
    public async Task A_piece_is_played_as_its_player_plays()
    {
        await using var workbench = await Workbench.StartAsync();
        await Mira(workbench);
        await workbench.PostAsync("/music/1/settings", Workbench.Form(("player", "1")));
        var page = await workbench.TextAsync("/music/1");
        Assert.Contains("Tenor trombone in B♭,", page);
        Assert.Contains("name=\"syllable\" maxlength=\"8\" value=\"loo\"", page);
        var practice = await workbench.TextAsync("/practice?kind=scales&player=1&register=all&key=Bb");
        Assert.Contains("B♭2 to B♭3", practice);
        Assert.DoesNotContain("to C4", practice);
    }

    [Fact]
    public async Task Everything_of_a_players_is_taken_along_and_deleted_whole()
    {
        await using var workbench = await Workbench.StartAsync();
        await Mira(workbench);
        await workbench.PostAsync("/music/1/settings", Workbench.Form(("player", "1")));
        using var wav = new MemoryStream();
        WavFile.Write(wav, new Recording(new float[44_100], new SampleRate(44_100)));
        await workbench.PostAsync("/music/1/takes/bring", Workbench.FileForm("sound", "hers.wav", wav.ToArray()));
        await workbench.PostAsync("/takes/1/remove", null);
        using var zip = new ZipArchive(new MemoryStream(await (await workbench.GetAsync("/players/1/all.zip")).BytesAsync()));
        Assert.Equal(2, zip.Entries.Count);
        var sound = zip.Entries.Single(e => e.FullName.StartsWith("takes/", StringComparison.Ordinal));
        Assert.Equal(wav.Length, sound.Length);
        using var card = JsonDocument.Parse(zip.GetEntry("player.json")!.Open());
        Assert.Equal("breathes too high", card.RootElement.GetProperty("card").GetProperty("notes").GetString());
        Assert.Equal(sound.FullName, card.RootElement.GetProperty("takes")[0].GetProperty("file").GetString());

        var book = (await workbench.PostAsync("/books/add?kind=one-note&player=1", Workbench.Form(("book", "0")))).Headers.Location!.OriginalString;
        await workbench.PostAsync(book, Workbench.Form(("title", "Mira’s first"), ("for", "Mira")));
        Assert.Contains("Mira", await workbench.TextAsync(book));
        var other = (await workbench.PostAsync("/books/add?kind=one-note", Workbench.Form(("book", "0")))).Headers.Location!.OriginalString;
        await workbench.PostAsync(other, Workbench.Form(("title", "An admiral on the slide"), ("for", "")));
        Assert.Contains("one recording", await workbench.TextAsync("/players/1/delete"));
        await workbench.PostAsync("/players/1/delete", null);
        Assert.DoesNotContain("Mira", await workbench.TextAsync(book));
        Assert.Contains("One note", await workbench.TextAsync(book), StringComparison.OrdinalIgnoreCase);
        Assert.Equal(HttpStatusCode.NotFound, (await workbench.GetAsync("/players/1")).StatusCode);
        Assert.Empty(Directory.GetFiles(Path.Combine(workbench.Folder, "recordings")));
        foreach (var file in Directory.GetFiles(workbench.Folder, "workbench.db*")) Assert.All(["breathes too high", "Mira"], words => Assert.DoesNotContain(words, System.Text.Encoding.Latin1.GetString(ReadAsync(file).Result)));
        Assert.Contains("An admiral on the slide", await workbench.TextAsync(other));

        // Whoever comes next is somebody else.
        Assert.Equal("/players/2", (await workbench.PostAsync("/players", Workbench.Form(("name", "Ole")))).Headers.Location!.OriginalString);
        Assert.Matches("<option value=\"2\">Ole", await workbench.TextAsync("/music/1"));
    }

    [Fact]
    public async Task A_card_that_cannot_be_is_told()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        Assert.Equal(HttpStatusCode.BadRequest, (await workbench.PostAsync("/players", Workbench.Form(("name", " ")))).StatusCode);
        await Mira(workbench);
        foreach (var (name, value) in new[] { ("range", "D4-F2"), ("range", "C7-D7"), ("level", "9"), ("horn", "tuba"), ("furthest", "0") })
        {
            var answer = await workbench.PostAsync("/players/1", Workbench.Form(("name", "Mira"), (name, value)));
            Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
            Assert.Contains("class=\"problems\"", await answer.TextAsync());
        }
    }

    private static async Task Mira(Workbench workbench)
    {
        Assert.Equal("/players/1", (await workbench.PostAsync("/players", Workbench.Form(("name", "Mira")))).Headers.Location!.OriginalString);
        var kept = await workbench.PostAsync("/players/1", Workbench.Form(("name", "Mira"), ("horn", "tenor-straight"), ("level", "1"), ("range", "Bb2-Bb3"), ("furthest", "6"), ("syllable", "loo"), ("notes", "breathes too high")));
        Assert.Equal(HttpStatusCode.Redirect, kept.StatusCode);
    }

    // The database is open: what is in it is read beside it.
    private static async Task<byte[]> ReadAsync(string path)
    {
        await using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
        var content = new byte[file.Length];
        await file.ReadExactlyAsync(content, TestContext.Current.CancellationToken);
        return content;
    }

    [Fact]
    public async Task A_player_who_was_renamed_and_then_deleted_leaves_neither_name()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        await workbench.PostAsync("/players", Workbench.Form(("name", "Jule ‹Ö> $1 Krämer")));
        await workbench.PostAsync("/books/add?kind=two-notes&player=1", Workbench.Form(("book", "0")));
        Assert.Contains("Jule ‹Ö> $1 Krämer", await workbench.TextAsync("/books/1"));
        await workbench.PostAsync("/books/1/line/0", Workbench.Form(("chapter", "Jule ‹Ö> $1 Krämer warms up"), ("do", "keep")));
        await workbench.PostAsync("/players/1", Workbench.Form(("name", "Zuzannka $2"), ("horn", "tenor-f"), ("level", "3")));
        var book = await workbench.TextAsync("/books/1");
        Assert.Contains("Zuzannka $2", book);
        Assert.DoesNotContain("Krämer", book);
        await workbench.PostAsync("/players/1/delete", null);
        Assert.DoesNotContain("Zuzannka", await workbench.TextAsync("/books/1"));
    }
}
