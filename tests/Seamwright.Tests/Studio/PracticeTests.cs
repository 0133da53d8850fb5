using System.Net;

namespace Seamwright.Tests.Studio;

public class PracticeTests
{
    [Fact]
    public async Task An_exercise_is_seen_printed_and_kept_as_a_piece_that_knows_what_it_asks()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        Assert.Contains("three passes", await workbench.PageAsync("/practice"));
        const string Wish = "kind=three-passes&instrument=tenor-f&level=3&key=Eb";
        Assert.Contains("E♭ major in three passes", WebUtility.HtmlDecode(await workbench.PageAsync($"/practice?{Wish}")));
        Assert.StartsWith("%PDF", System.Text.Encoding.Latin1.GetString(await workbench.MadeAsync($"/practice/print?{Wish}")));
        var kept = await workbench.PostAsync($"/practice/keep?{Wish}&exercise=0", null);
        Assert.Equal("/music/1", kept.Headers.Location!.OriginalString);
        var page = WebUtility.HtmlDecode(await workbench.PageAsync("/music/1"));
        Assert.Contains("the slide is heard", page);
        Assert.Contains("exercise", await workbench.PageAsync("/"));
    }

    [Theory]
    [InlineData("/practice?kind=lip-slurs&instrument=tenor-f&level=3")]
    [InlineData("/practice?kind=one-note&instrument=tenor-f&level=3")]
    public async Task Every_exercise_on_a_page_is_kept_by_its_own_button(string address)
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var page = WebUtility.HtmlDecode(await workbench.PageAsync(address));
        var titles = System.Text.RegularExpressions.Regex.Matches(page, "<h2>([^<]+)</h2>\\s*<p class=\"under\">Level").Select(m => m.Groups[1].Value).ToList();
        var buttons = System.Text.RegularExpressions.Regex.Matches(page, "action=\"(/practice/keep[^\"]+)\"").Select(m => m.Groups[1].Value).ToList();
        Assert.NotEmpty(titles);
        Assert.Equal(titles.Count, buttons.Count);
        for (var i = 0; i < buttons.Count; i++)
        {
            var kept = (await workbench.PostAsync(buttons[i], null)).Headers.Location!.OriginalString;
            Assert.Contains($"<h1>{titles[i]}</h1>", WebUtility.HtmlDecode(await workbench.PageAsync(kept)));
        }
    }

    [Fact]
    public async Task An_exercise_from_music_asks_for_the_music_in_the_pages_words()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        Assert.Contains("Choose one under", await (await workbench.GetAsync("/practice?kind=from-tune")).TextAsync());
    }

    [Fact]
    public async Task What_is_drawn_from_a_piece_keeps_its_fixed_positions_and_its_clef()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        await workbench.PostAsync("/music/add", Workbench.FileForm("file", "ferry.musicxml", File.ReadAllBytes(Path.Combine(Workbench.Melodies, "evening-ferry.musicxml"))));
        const string Wish = "/practice?kind=from-tune&piece=1&change=1&instrument=tenor-f&level=6";
        var straight = Wish.Replace("tenor-f", "tenor-straight", StringComparison.Ordinal);
        var (before, elsewhere) = (Sixths(await workbench.PageAsync(Wish)), await workbench.PageAsync(straight));
        await workbench.PostAsync("/music/1/lock", Workbench.Form(("note", "2"), ("setting", "6")));
        var after = await workbench.PageAsync(Wish);
        Assert.True(Sixths(after) > before, $"{Sixths(after)} sixth positions, {before} before");

        // Another horn has other places.
        Assert.Equal(Drawn(elsewhere), Drawn(await workbench.PageAsync(straight)));
        await workbench.PostAsync("/music/1/settings", Workbench.Form(("clef", "tenor")));
        var inTenor = await workbench.PageAsync(Wish);
        Assert.NotEqual(Drawn(after), Drawn(inTenor));

        // So does the way of tonguing that the piece is planned for.
        await workbench.PostAsync("/music/1/settings", Workbench.Form(("clef", "tenor"), ("policy", "every-note")));
        Assert.NotEqual(Drawn(inTenor), Drawn(await workbench.PageAsync(Wish)));

        static string Drawn(string page) => page[page.IndexOf("<svg class=\"shapes\"", StringComparison.Ordinal)..];
        static int Sixths(string page) => System.Text.RegularExpressions.Regex.Count(page, ">6</t(span|ext)>");
    }

    [Fact]
    public async Task What_a_horn_cannot_do_is_said_in_words()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var answer = await workbench.GetAsync("/practice?kind=valve-slurs&instrument=tenor-straight");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        Assert.Contains("role=\"alert\"", await answer.TextAsync());
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await workbench.GetAsync("/practice?kind=yodel")).StatusCode);
    }

    [Theory]
    [InlineData("99")]
    [InlineData("0")]
    [InlineData("high")]
    public async Task A_level_that_does_not_exist_is_told(string level)
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var answer = await workbench.GetAsync($"/practice?kind=scales&level={level}");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        Assert.Contains("there is no such level. Levels go from 1", WebUtility.HtmlDecode(await answer.TextAsync()));
    }

    [Fact]
    public async Task Who_reads_treble_in_B_flat_is_given_exercises_in_it()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        await workbench.PostAsync("/settings/written", Workbench.Form(("value", "b-flat-treble")));
        var page = await workbench.TextAsync("/practice?kind=scales&level=2");
        Assert.Contains("C major", page);
        Assert.DoesNotContain("B♭ major", page);
    }

    [Theory]
    [InlineData("kind=scales&tempos=40 48 56", "♩ = 40, 48, 56.")]
    [InlineData("kind=scales&octaves=2&level=5", "G♭2 to G♭4")]
    [InlineData("kind=arpeggios&chord=dominant-seventh&level=5", "dominant seventh")]
    [InlineData("kind=two-notes&positions=1-3", "Two notes: 1st and 3rd position")]
    [InlineData("kind=pattern&pattern=1 2 3 1", "1 2 3 1")]
    [InlineData("kind=valve-slurs&valve=F&tempos=60, 66", "♩ = 60, 66.")]
    public async Task What_a_kind_can_be_asked_for_is_asked_on_the_page(string wish, string shown)
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var page = await workbench.TextAsync($"/practice?{wish}");
        Assert.Contains(shown, page[page.IndexOf("<article", StringComparison.Ordinal)..page.IndexOf("What to practise</h2>", StringComparison.Ordinal)]);
        Assert.Contains($"value=\"{wish.Split('=')[^1]}\"", page);
    }

    [Fact]
    public async Task What_cannot_be_read_or_made_is_told_and_what_a_kind_has_no_use_for_does_no_harm()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        async Task<string> RefusedAsync(string wish)
        {
            var answer = await workbench.GetAsync($"/practice?{wish}");
            Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
            return WebUtility.HtmlDecode(await answer.TextAsync());
        }

        Assert.Contains("'fast' is not understood here. Write it as in 40 50 60", await RefusedAsync("kind=scales&tempos=fast"));
        Assert.Contains("is no tempo ladder", await RefusedAsync("kind=scales&tempos=90 60"));
        Assert.Contains("stays on one note", await RefusedAsync("kind=pattern&pattern=1 1"));
        Assert.Contains("Choose one of those in the list", await RefusedAsync("kind=scales&way=sideways"));
        Assert.Contains("is no way of the slide", await RefusedAsync("kind=two-notes&positions=3-3"));
        Assert.Contains("<article", await workbench.PageAsync("/practice?kind=scales&positions=1-4&chord=major"));
        var book = await workbench.PostAsync("/books/add?kind=scales&tempos=40 50", Workbench.Form(("book", "0")));
        Assert.Contains("tempo ladder 40 50", await workbench.TextAsync(book.Headers.Location!.OriginalString));
    }
}
