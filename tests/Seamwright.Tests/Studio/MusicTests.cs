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

    [Fact]
    public async Task A_note_fixed_elsewhere_stays_there_until_the_plan_may_choose_again()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        await workbench.PostAsync("/music/add", Workbench.FileForm("file", "ferry.musicxml", Ferry));
        var panel = await workbench.PageAsync("/music/1/note/2");
        Assert.Contains("It can also be played", panel);
        await workbench.PostAsync("/music/1/lock", Workbench.Form(("note", "2"), ("setting", "open4p5")));
        await workbench.PostAsync("/music/1/lock", Workbench.Form(("note", "2"), ("setting", "6")));
        var fixedPanel = await workbench.PageAsync("/music/1/note/2");
        Assert.Contains("Planned in <b>6</b>", fixedPanel);
        Assert.Contains("You fixed it there", fixedPanel);
        await workbench.PostAsync("/music/1/lock", Workbench.Form(("note", "2"), ("setting", "")));
        Assert.DoesNotContain("You fixed it", await workbench.PageAsync("/music/1/note/2"));
    }

    [Fact]
    public async Task A_fixed_note_is_found_again_by_who_comes_back_to_the_horn()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        await workbench.PostAsync("/music/add", Workbench.FileForm("file", "ferry.musicxml", Ferry));
        await workbench.PostAsync("/music/1/lock", Workbench.Form(("note", "2"), ("setting", "6")));
        await workbench.PostAsync("/music/1/settings", Workbench.Form(("instrument", "bass-independent")));
        Assert.DoesNotContain("You fixed it", await workbench.TextAsync("/music/1/note/2"));
        await workbench.PostAsync("/music/1/settings", Workbench.Form(("instrument", "tenor-f")));
        Assert.Contains("You fixed it there", await workbench.TextAsync("/music/1/note/2"));
    }

    [Fact]
    public async Task Another_part_of_a_score_can_be_chosen()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        const string Abc = "X:1\nT:Two of us\nM:4/4\nL:1/4\nK:C clef=bass\nV:1 name=\"Trombone\"\nV:2 name=\"Tuba\"\n[V:1] C,D,E,F,|\n[V:2] G,,,A,,,B,,,G,,,|\n";
        await workbench.PostAsync("/music/add", Workbench.FileForm("file", "two.abc", System.Text.Encoding.UTF8.GetBytes(Abc)));
        var page = await workbench.TextAsync("/music/1");
        var parts = System.Text.RegularExpressions.Regex.Matches(page[page.IndexOf("name=\"part\"", StringComparison.Ordinal)..], "<option value=\"([^\"]+)\"[^>]*>([^<]+)").Take(2).ToDictionary(m => m.Groups[2].Value, m => m.Groups[1].Value);
        Assert.Equal(2, parts.Count);
        var tuba = parts.Last().Value;
        await workbench.PostAsync("/music/1/settings", Workbench.Form(("part", tuba)));
        var moved = await workbench.TextAsync("/music/1");
        Assert.NotEqual(page, moved);
        Assert.Contains("selected", moved[moved.IndexOf($"value=\"{tuba}\"", StringComparison.Ordinal)..][..40]);

        // What is not there is no dead end.
        await workbench.PostAsync("/music/1/settings", Workbench.Form(("part", "P77")));
        await workbench.PageAsync("/music/1");
    }

    [Fact]
    public async Task Notes_out_of_reach_are_told_above_the_music()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        await workbench.PostAsync("/music/add", Workbench.FileForm("file", "ferry.musicxml", Ferry));
        Assert.DoesNotContain("out of reach", await workbench.TextAsync("/music/1"));
        await workbench.PostAsync("/music/1/settings", Workbench.Form(("furthest", "2")));
        Assert.Matches("[0-9]+ notes lie out of reach", await workbench.TextAsync("/music/1"));
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
    public async Task A_fixed_note_still_shows_where_else_it_is_played_and_what_the_plan_would_choose()
    {
        await using var workbench = await Workbench.StartAsync();
        var before = await workbench.TextAsync("/music/9/note/0");
        var other = System.Text.RegularExpressions.Regex.Match(before, "name=\"setting\" value=\"([^\"]+)\"").Groups[1].Value;
        await workbench.PostAsync("/music/9/lock", Workbench.Form(("note", "0"), ("setting", other)));
        var after = await workbench.TextAsync("/music/9/note/0");
        Assert.Contains("You fixed it there", after);
        Assert.Contains("the plan's own choice", after);
        Assert.DoesNotContain("no other way", after);
        Assert.Contains("touch locked", await workbench.PageAsync("/music/9"));
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
    public async Task The_panel_stays_with_a_note_that_was_fixed_and_leads_back_to_the_hardest()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        await workbench.PostAsync("/music/add", Workbench.FileForm("file", "ferry.musicxml", Ferry));
        var setting = Regex.Match(await workbench.TextAsync("/music/1/note/2"), "name=\"setting\" value=\"([^\"]+)\"").Groups[1].Value;
        using var fix = new HttpRequestMessage(HttpMethod.Post, "/music/1/lock") { Content = Workbench.Form(("note", "2"), ("setting", setting)), Headers = { { "Sec-Fetch-Dest", "empty" } } };
        var page = WebUtility.HtmlDecode(await (await workbench.SendAsync(fix)).TextAsync());
        Assert.Contains("You fixed it there.", page);
        Assert.DoesNotContain("Hardest here", page);
        Assert.Contains("href=\"/music/1/hardest\"", page);
        Assert.Contains("Hardest here", await workbench.TextAsync("/music/1/hardest"));
    }

    [Fact]
    public async Task Notes_are_named_as_the_music_beside_them_writes_them()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        await workbench.PostAsync("/music/add", Workbench.FileForm("file", "ferry.musicxml", Ferry));
        async Task SettleAsync(string clef) => await workbench.PostAsync("/music/1/settings", Workbench.Form(("clef", clef)));
        Assert.Contains("Bar 1, B♭2,", await workbench.TextAsync("/music/1"));
        await workbench.PostAsync("/settings/written", Workbench.Form(("value", "b-flat-treble")));
        Assert.Contains("Bar 1, B♭2,", await workbench.TextAsync("/music/1"));
        await SettleAsync("treble-bb");
        Assert.Contains("Bar 1, C4,", await workbench.TextAsync("/music/1"));
        Assert.Contains("<h2>C4, bar 1</h2>", await workbench.TextAsync("/music/1/note/0"));
        await workbench.PostAsync("/settings/written", Workbench.Form(("value", "concert")));
        Assert.Contains("Bar 1, C4,", await workbench.TextAsync("/music/1"));
        await SettleAsync("bass");
        Assert.Contains("Bar 1, B♭2,", await workbench.TextAsync("/music/1"));
    }

    [Fact]
    public async Task The_signs_of_a_piece_are_explained_above_it_and_a_wrong_tempo_in_plain_words()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        await workbench.PostAsync("/music/add", Workbench.FileForm("file", "ferry.musicxml", Ferry));
        var page = await workbench.TextAsync("/music/1");
        Assert.Contains("natural slur, no tongue", page);
        Assert.Contains("soft tongue, “du”", page);
        var wrong = await workbench.GetAsync("/music/1/along/moments.json?tempo=0");
        Assert.Equal(HttpStatusCode.BadRequest, wrong.StatusCode);
        Assert.Equal("0 quarter notes a minute cannot be played; 10 to 400 can.", await wrong.TextAsync());
    }

    [Fact]
    public async Task A_voice_that_runs_while_it_is_heard_has_the_samples_of_its_file()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        await workbench.PostAsync("/music/add", Workbench.FileForm("file", "ferry.musicxml", Ferry));
        var running = await workbench.GetAsync("/music/1/along/example.samples?tempo=100");
        var file = Seamwright.Audio.WavFile.Read(new MemoryStream(await (await workbench.GetAsync("/music/1/along/example.wav?tempo=100")).BytesAsync()), "example").Value;
        Assert.Equal($"{file.Rate.Value}", running.Headers.GetValues("Samples-Rate").Single());
        var samples = System.Runtime.InteropServices.MemoryMarshal.Cast<byte, short>(await running.BytesAsync()).ToArray();
        Assert.Equal(file.Samples.Length, samples.Length);
        Assert.True(samples.Zip(file.Samples.ToArray()).All(x => Math.Abs((x.First / 32767.0) - x.Second) < 1e-4));
        Assert.Equal(HttpStatusCode.NotFound, (await workbench.GetAsync("/music/1/along/kazoo.samples")).StatusCode);
        Assert.Equal("0 quarter notes a minute cannot be played; 10 to 400 can.", await (await workbench.GetAsync("/music/1/along/example.samples?tempo=0")).TextAsync());
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

    [Fact]
    public async Task A_panel_in_a_window_of_its_own_comes_with_its_piece()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        await workbench.PostAsync("/music/add", Workbench.FileForm("file", "ferry.musicxml", Ferry));
        foreach (var (url, shown) in new[] { ("note/2", "It can also be played"), ("change/1", "Hear it") })
        {
            using var window = new HttpRequestMessage(HttpMethod.Get, $"/music/1/{url}") { Headers = { { "Sec-Fetch-Dest", "document" } } };
            var page = WebUtility.HtmlDecode(await (await workbench.SendAsync(window)).TextAsync());
            Assert.Contains("<h1>Evening Ferry</h1>", page);
            Assert.Contains(shown, page);
            Assert.DoesNotContain("<h1>", await workbench.PageAsync($"/music/1/{url}"));
        }
    }
}
