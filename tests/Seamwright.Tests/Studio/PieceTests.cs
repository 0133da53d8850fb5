using System.Net;
using System.Text.RegularExpressions;

namespace Seamwright.Tests.Studio;

public class PieceTests
{
    private static byte[] Ferry => File.ReadAllBytes(Path.Combine(Workbench.Melodies, "evening-ferry.musicxml"));

    [Fact]
    public async Task A_note_fixed_elsewhere_stays_there_until_the_plan_may_choose_again()
    {
        await using var workbench = await WithFerryAsync();
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
        await using var workbench = await WithFerryAsync();
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
        await using var workbench = await WithFerryAsync();
        Assert.DoesNotContain("out of reach", await workbench.TextAsync("/music/1"));
        await workbench.PostAsync("/music/1/settings", Workbench.Form(("furthest", "2")));
        Assert.Matches("[0-9]+ notes lie out of reach", await workbench.TextAsync("/music/1"));
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
    public async Task The_panel_stays_with_a_note_that_was_fixed_and_leads_back_to_the_hardest()
    {
        await using var workbench = await WithFerryAsync();
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
        await using var workbench = await WithFerryAsync();
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
        await using var workbench = await WithFerryAsync();
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
        await using var workbench = await WithFerryAsync();
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
    public async Task A_panel_in_a_window_of_its_own_comes_with_its_piece()
    {
        await using var workbench = await WithFerryAsync();
        foreach (var (url, shown) in new[] { ("note/2", "It can also be played"), ("change/1", "Hear it") })
        {
            using var window = new HttpRequestMessage(HttpMethod.Get, $"/music/1/{url}") { Headers = { { "Sec-Fetch-Dest", "document" } } };
            var page = WebUtility.HtmlDecode(await (await workbench.SendAsync(window)).TextAsync());
            Assert.Contains("<h1>Evening Ferry</h1>", page);
            Assert.Contains(shown, page);
            Assert.DoesNotContain("<h1>", await workbench.PageAsync($"/music/1/{url}"));
        }
    }

    private static async Task<Workbench> WithFerryAsync()
    {
        var workbench = await Workbench.StartAsync(demo: false);
        await workbench.PostAsync("/music/add", Workbench.FileForm("file", "ferry.musicxml", Ferry));
        return workbench;
    }
}
