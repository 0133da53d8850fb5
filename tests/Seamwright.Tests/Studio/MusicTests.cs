using System.Net;
using System.Text.RegularExpressions;

namespace Seamwright.Tests.Studio;

public class MusicTests
{
    private static byte[] Ferry => File.ReadAllBytes(Path.Combine(Workbench.Melodies, "evening-ferry.musicxml"));

    [Fact]
    public async Task The_first_start_brings_the_invented_melodies_and_says_so_and_the_next_one_brings_none()
    {
        var first = await Workbench.StartAsync();
        var page = await first.PageAsync("/");
        Assert.Contains("Evening Ferry", page);
        Assert.Equal(Directory.GetFiles(Workbench.Melodies, "*.musicxml").Length, page.Split("invented for Seamwright</span>").Length - 1);
        await first.PostAsync("/music/remove-demo", null);
        await first.DisposeAsync();
        await using var second = await Workbench.StartAsync(first.Folder);
        Assert.DoesNotContain("Evening Ferry", await second.PageAsync("/"));
    }

    [Fact]
    public async Task A_piece_that_is_brought_has_a_page_with_its_plan()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var answer = await workbench.PostAsync("/music/add", Workbench.FileForm("file", "ferry.musicxml", Ferry));
        Assert.Equal("/music/1", answer.Headers.Location!.OriginalString);
        var page = await workbench.PageAsync("/music/1");
        Assert.Contains("<h1>Evening Ferry</h1>", page);
        Assert.Contains("aria-label=\"Bar 1, B♭2, position 1\"", WebUtility.HtmlDecode(page));
    }

    [Fact]
    public async Task A_long_piece_comes_in_runs_that_hold_every_bar_once()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var tune = "X:1\nT:Long\nL:1/8\nM:4/4\nK:Bb clef=bass\n" + string.Concat(Enumerable.Repeat("(B,,C,D,E, F,G,A,B,) | (CB,A,G, F,E,D,C,) |\n", 60));
        await workbench.PostAsync("/music/add", Workbench.FileForm("file", "long.abc", System.Text.Encoding.UTF8.GetBytes(tune)));
        var notes = new List<int>();
        var runs = 0;
        for (var address = "/music/1"; address is not null; runs++)
        {
            var page = WebUtility.HtmlDecode(await workbench.PageAsync(address));
            notes.AddRange(Regex.Matches(page, "data-note=\"(\\d+)\"").Select(m => int.Parse(m.Groups[1].Value, System.Globalization.CultureInfo.InvariantCulture)));
            address = Regex.Match(page, "data-more=\"([^\"]+)\"") is { Success: true } more ? more.Groups[1].Value : null;
        }

        Assert.True(runs > 3, $"{runs} runs show nothing.");
        Assert.Equal(Enumerable.Range(0, 960), notes);
        using var settings = new HttpRequestMessage(HttpMethod.Post, "/music/1/settings") { Content = Workbench.Form(("tempo", "70"), ("from", "60")), Headers = { { "Sec-Fetch-Dest", "empty" } } };
        var seen = await (await workbench.SendAsync(settings)).TextAsync();
        Assert.Contains("data-bar=\"60\"", seen);
        Assert.DoesNotContain("data-bar=\"0\"", seen);
        foreach (var wrong in new[] { "from=120", "from=-1", "from=x", "from=5&since=6" }) Assert.Equal(HttpStatusCode.NotFound, (await workbench.GetAsync($"/music/1/systems?{wrong}")).StatusCode);
    }

    [Fact]
    public async Task A_broken_file_is_told_with_its_place_and_stores_nothing()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var broken = "<score-partwise><part-list/><part id=\"P1\"><measure number=\"1\"><note>"u8.ToArray();
        var answer = await workbench.PostAsync("/music/add", Workbench.FileForm("file", "broken.musicxml", broken));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        var page = await answer.TextAsync();
        Assert.Contains("role=\"alert\"", page);
        Assert.Contains("broken.musicxml", page);
        Assert.Contains("line 1", page);
        Assert.Contains("No music yet", page);
    }

    [Fact]
    public async Task Of_several_files_the_good_ones_come_in_and_the_page_says_so()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        using var files = Workbench.FileForm("file", "ferry.musicxml", Ferry);
        files.Add(new ByteArrayContent("<score-partwise>"u8.ToArray()), "file", "broken.musicxml");
        var answer = await workbench.PostAsync("/music/add", files);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        var page = await answer.TextAsync();
        Assert.Contains("broken.musicxml", page);
        Assert.Contains("came in: 1 piece.", page);
        Assert.Contains("Evening Ferry", page);
        Assert.Equal("/", (await workbench.GetAsync("/music/add")).Headers.Location!.OriginalString);
    }

    [Fact]
    public async Task An_address_that_cannot_be_read_is_told_on_a_page()
    {
        await using var workbench = await Workbench.StartAsync();
        var answer = await workbench.GetAsync("/takes/1?attempt=abc");
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Contains("follow a link of the workbench", await answer.TextAsync());
    }

    [Fact]
    public async Task What_is_put_away_comes_back()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        await workbench.PostAsync("/music/add", Workbench.FileForm("file", "ferry.musicxml", Ferry));
        var away = await workbench.PostAsync("/music/1/remove", null);
        Assert.Equal("/?undo=1", away.Headers.Location!.OriginalString);
        Assert.Contains("No music yet", await workbench.PageAsync("/?undo=1"));
        Assert.Equal(HttpStatusCode.NotFound, (await workbench.GetAsync("/music/1")).StatusCode);
        await workbench.PostAsync("/music/restore", Workbench.Form(("ids", "1")));
        Assert.Contains("Evening Ferry", await workbench.PageAsync("/"));
    }

    [Fact]
    public async Task Names_and_tags_are_found_again_and_shown_as_they_were_written()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        await workbench.PostAsync("/music/add", Workbench.FileForm("file", "ferry.musicxml", Ferry));
        await workbench.PostAsync("/music/1/rename", Workbench.Form(("title", "<b>Bold & brave</b>"), ("tags", "slow, <script>alert(1)</script>")));
        var page = await workbench.PageAsync("/?search=slow");
        Assert.Contains("&lt;b&gt;Bold &amp; brave&lt;/b&gt;", page);
        Assert.DoesNotContain("<script>alert", page);
        Assert.Contains("Nothing here has", await workbench.PageAsync("/?search=quick"));
    }

    [Fact]
    public async Task Settings_change_the_plan_and_what_cannot_be_planned_is_told_and_not_kept()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        await workbench.PostAsync("/music/add", Workbench.FileForm("file", "ferry.musicxml", Ferry));
        var fields = new[] { ("instrument", "tenor-straight"), ("policy", "every-note"), ("prefer", "quiet-arm"), ("tempo", "60"), ("octave", "0"), ("syllable", "la") };
        await workbench.PostAsync("/music/1/settings", Workbench.Form(fields));
        var page = WebUtility.HtmlDecode(await workbench.PageAsync("/music/1"));
        Assert.Contains("Tenor trombone in B♭, B♭ major, ♩ = 60", page);
        Assert.Contains(" 0 natural slurs, 0 valve slurs", page);
        using var fetched = new HttpRequestMessage(HttpMethod.Post, "/music/1/settings") { Content = Workbench.Form([.. fields[..3], ("tempo", "9000")]) };
        fetched.Headers.Add("Sec-Fetch-Dest", "empty");
        var told = await (await workbench.SendAsync(fetched)).TextAsync();
        Assert.Contains("it must be a number from 10 to 400", told);
        Assert.DoesNotContain("<html", told);
        Assert.Contains("♩ = 60", WebUtility.HtmlDecode(await workbench.PageAsync("/music/1")));
    }

    [Theory]
    [InlineData("/music/99")]
    [InlineData("/music/1/note/9999")]
    [InlineData("/music/1/change/-1")]
    [InlineData("/takes/7")]
    [InlineData("/nowhere")]
    public async Task What_is_not_there_is_a_page_that_says_so(string url)
    {
        await using var workbench = await Workbench.StartAsync();
        var answer = await workbench.GetAsync(url);
        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
        Assert.Contains("There is nothing here", await answer.TextAsync());
    }

    [Fact]
    public async Task The_sheet_and_the_sound_of_a_change_are_files()
    {
        await using var workbench = await Workbench.StartAsync();
        var sheet = await workbench.GetAsync("/music/1/sheet.pdf");
        Assert.StartsWith("%PDF", System.Text.Encoding.Latin1.GetString(await sheet.BytesAsync()));
        var clean = await (await workbench.GetAsync("/music/1/change/3/sound.wav?as=clean")).BytesAsync();
        var hard = await (await workbench.GetAsync("/music/1/change/3/sound.wav?as=hard-tongue")).BytesAsync();
        Assert.StartsWith("RIFF", System.Text.Encoding.Latin1.GetString(clean));
        Assert.NotEqual(clean, hard);
        Assert.Equal(HttpStatusCode.BadRequest, (await workbench.GetAsync("/music/1/change/3/sound.wav?as=yodel")).StatusCode);
    }

    [Fact]
    public async Task A_melody_in_letters_is_engraved_kept_and_changed()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        const string Melody = "X:1\nT:Little steps\nM:4/4\nL:1/4\nK:Bb clef=bass\n(B,,C,D,E,)|]\n";
        var shown = await (await workbench.PostAsync("/music/write/engraved", Workbench.Form(("abc", Melody)))).TextAsync();
        Assert.Contains("aria-label=\"The melody, engraved\"", shown);
        Assert.DoesNotContain("<html", shown);
        var wrong = await (await workbench.PostAsync("/music/write/engraved", Workbench.Form(("abc", "X:1\nK:Bb\n%nothing\n")))).TextAsync();
        Assert.Contains("class=\"problems\"", wrong);
        var kept = await workbench.PostAsync("/music/write", Workbench.Form(("abc", Melody)));
        Assert.Equal("/music/1", kept.Headers.Location!.OriginalString);
        Assert.Contains("href=\"/music/write?piece=1\"", await workbench.PageAsync("/music/1"));
        await workbench.PostAsync("/music/write", Workbench.Form(("piece", "1"), ("abc", Melody.Replace("Little", "Longer"))));
        Assert.Contains("<h1>Longer steps</h1>", await workbench.PageAsync("/music/1"));
        Assert.Equal(HttpStatusCode.NotFound, (await workbench.GetAsync("/music/write?piece=9")).StatusCode);
    }

    [Fact]
    public async Task Notes_are_called_as_the_user_calls_them()
    {
        await using var workbench = await Workbench.StartAsync();
        Assert.Contains("B♭ major", await workbench.TextAsync("/practice?kind=scales&key=Bb"));
        Assert.Equal(HttpStatusCode.Redirect, (await workbench.PostAsync("/settings/names", Workbench.Form(("value", "german")))).StatusCode);
        var page = await workbench.TextAsync("/practice?kind=scales&key=Bb");
        Assert.Contains("B major", page);
        Assert.DoesNotContain("B♭ major", page);
        await workbench.PostAsync("/settings/written", Workbench.Form(("value", "b-flat-treble")));
        Assert.Contains("C major", await workbench.TextAsync("/practice?kind=scales&key=Bb"));
        Assert.Equal(HttpStatusCode.BadRequest, (await workbench.PostAsync("/settings/names", Workbench.Form(("value", "elvish")))).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await workbench.PostAsync("/settings/colour", Workbench.Form(("value", "red")))).StatusCode);
    }

    [Fact]
    public async Task Every_link_of_every_page_leads_somewhere()
    {
        await using var workbench = await Workbench.StartAsync();
        await workbench.PostAsync("/horns/tenor-f/own", null);
        await workbench.PostAsync("/players", Workbench.Form(("name", "Mira")));
        await workbench.PostAsync("/books/add?kind=scales&player=1", Workbench.Form(("book", "0")));
        var (seen, waiting) = (new HashSet<string>(), new Queue<string>(["/"]));
        while (waiting.TryDequeue(out var url))
        {
            var answer = await workbench.GetAsync(url);
            Assert.True(answer.IsSuccessStatusCode, $"{url}: {answer.StatusCode}");
            if (answer.Content.Headers.ContentType?.MediaType != "text/html") continue;
            var raw = await answer.TextAsync();
            Assert.DoesNotContain("&amp;amp;", raw);
            foreach (System.Text.RegularExpressions.Match link in System.Text.RegularExpressions.Regex.Matches(raw, " href=\"(/[^\"]*)\""))
            {
                var next = WebUtility.HtmlDecode(link.Groups[1].Value).Split('#')[0];

                // One of each kind is enough: pages of the same kind are made by the same code.
                var kind = System.Text.RegularExpressions.Regex.Replace(next, "(?<=/)\\d+|=[^&]*", "");
                if (seen.Add(kind)) waiting.Enqueue(next);
            }
        }

        Assert.True(seen.Count > 20, string.Join(' ', seen));
    }

    [Fact]
    public async Task The_same_file_again_is_told_and_a_second_one_is_a_copy()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        await workbench.PostAsync("/music/add", Workbench.FileForm("file", "ferry.musicxml", Ferry));
        await workbench.PostAsync("/music/1/rename", Workbench.Form(("title", "For Mira"), ("tags", "lesson")));
        var again = await workbench.PostAsync("/music/add", Workbench.FileForm("file", "ferry again.musicxml", Ferry));
        Assert.Equal(HttpStatusCode.OK, again.StatusCode);
        Assert.Contains("was here already, as “For Mira”", WebUtility.HtmlDecode(await again.TextAsync()));
        Assert.Equal(HttpStatusCode.NotFound, (await workbench.GetAsync("/music/2")).StatusCode);
        var copy = await workbench.PostAsync("/music/1/copy", null);
        var page = await workbench.TextAsync(copy.Headers.Location!.OriginalString);
        Assert.Contains("<h1>For Mira, copy</h1>", page);
        await workbench.PostAsync("/music/1/copy", null);
        Assert.Contains("For Mira, copy 2", await workbench.TextAsync("/"));
        Assert.Contains("value=\"lesson\"", page);
    }

    [Fact]
    public async Task A_melody_without_a_note_is_not_kept_and_stays_in_its_box()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        const string Rests = "X:1\nT:Only Rests\nL:1/4\nM:4/4\nK:Bb clef=bass\nz4 | z4 |";
        var kept = await workbench.PostAsync("/music/write", Workbench.Form(("abc", Rests)));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, kept.StatusCode);
        var page = WebUtility.HtmlDecode(await kept.TextAsync());
        Assert.Contains("holds no note", page);
        Assert.Contains("T:Only Rests", page);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await workbench.PostAsync("/music/add", Workbench.FileForm("file", "rests.abc", System.Text.Encoding.UTF8.GetBytes(Rests)))).StatusCode);
        Assert.Contains("No music yet", await workbench.PageAsync("/"));
    }
}
