using System.Text.RegularExpressions;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;
using Seamwright.Tests;

namespace Seamwright.BrowserTests;

/// <summary>A teacher and a pupil at the workbench, in a real browser whose microphone is a file.</summary>
public sealed partial class WorkbenchJourney
{
    [Fact]
    public async Task A_teacher_brings_a_piece_fixes_an_alternate_and_prints_the_sheet()
    {
        await using var workbench = await OpenWorkbench.StartAsync(demo: false);
        var page = await workbench.PageAsync("/");
        await page.Locator("input[type=file]").SetInputFilesAsync(Path.Combine(Repository.Root, "src", "Seamwright.Cli", "Melodies", "evening-ferry.musicxml"));
        await page.WaitForURLAsync(workbench.Address + "/music/1");
        await page.GetByLabel("Bar 1, F3, position 1", new() { Exact = true }).First.FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await page.GetByRole(AriaRole.Button, new() { Name = "6", Exact = true }).ClickAsync();
        await Assertions.Expect(page.GetByLabel("Bar 1, F3, position 6, fixed").First).ToBeAttachedAsync();
        var download = await page.RunAndWaitForDownloadAsync(() => page.GetByRole(AriaRole.Link, new() { Name = "Print the sheet" }).ClickAsync());
        var pdf = await File.ReadAllBytesAsync((await download.PathAsync())!, TestContext.Current.CancellationToken);
        Assert.Equal("%PDF"u8.ToArray(), pdf[..4]);
        AssertQuiet(workbench);
    }

    [Fact]
    public async Task A_pupil_records_a_faulty_take_and_the_fault_stands_at_its_note()
    {
        var (plan, fault, wav, seconds) = InventedTakes.Faulty.Value;
        await using var workbench = await OpenWorkbench.StartAsync(wav);
        var page = await workbench.PageAsync("/");
        await page.GetByRole(AriaRole.Link, new() { Name = plan.Line.Title, Exact = true }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Record", Exact = true }).ClickAsync();
        await page.Locator("#count-in").FillAsync("0");
        await page.GetByRole(AriaRole.Button, new() { Name = "Record", Exact = true }).ClickAsync();
        await page.WaitForFunctionAsync($"() => {{ const [m, s] = document.querySelector('#clock').textContent.split(':'); return Number(m) * 60 + Number(s) >= {Math.Ceiling(seconds)}; }}", null, new() { Timeout = 180_000 });
        await page.GetByRole(AriaRole.Button, new() { Name = "Stop" }).ClickAsync();
        await page.WaitForURLAsync(new Regex("/takes/\\d+$"), new() { Timeout = 60_000 });
        var troubles = await page.Locator("a[data-trouble]").EvaluateAllAsync<string[]>("all => all.map(a => a.dataset.trouble + ': ' + a.textContent)");
        Assert.Contains(troubles, t => t.StartsWith($"{fault}: ", StringComparison.Ordinal) && t.Contains("air stopped", StringComparison.Ordinal));
        await page.Keyboard.PressAsync("n");
        await Assertions.Expect(page.Locator("#panel h3")).ToHaveTextAsync("Hear it");
        AssertQuiet(workbench);
    }

    [Fact]
    public async Task A_page_that_goes_away_in_the_middle_loses_nothing_and_neither_does_a_server()
    {
        await using var workbench = await OpenWorkbench.StartAsync(InventedTakes.Faulty.Value.Wav);
        var page = await workbench.PageAsync("/music/1/record");
        await page.Locator("#count-in").FillAsync("0");
        await page.Locator("#along").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Record", Exact = true }).ClickAsync();
        await page.WaitForFunctionAsync("() => document.querySelector('#clock').textContent >= '0:04'", null, new() { Timeout = 60_000 });
        page.Dialog += (_, d) => d.AcceptAsync();
        await page.ReloadAsync();
        await Assertions.Expect(page.GetByText("A recording that was cut off is here")).ToBeVisibleAsync();
        var kept = Directory.GetFiles(Path.Combine(workbench.Folder, "recordings"));
        Assert.InRange(new FileInfo(Assert.Single(kept)).Length, 3 * 2 * 44_100, long.MaxValue);
        await workbench.StartAgainAsync();
        await page.ReloadAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Hear what is there" }).ClickAsync();
        await Assertions.Expect(page.GetByText("The recording was cut off; what is there was heard.")).ToBeVisibleAsync();
        AssertQuiet(workbench);
    }

    [Fact]
    public async Task Who_stops_during_the_count_in_has_recorded_nothing_and_is_told()
    {
        await using var workbench = await OpenWorkbench.StartAsync(InventedTakes.Faulty.Value.Wav);
        var page = await workbench.PageAsync("/music/1/record");
        await page.Locator("#pace").FillAsync("0");
        await page.GetByRole(AriaRole.Button, new() { Name = "Record", Exact = true }).ClickAsync();
        await Assertions.Expect(page.Locator("#said")).ToContainTextAsync("must be a number from 10 to 400");
        await page.Locator("#pace").FillAsync("40");
        await page.Locator("#count-in").FillAsync("8");
        await page.GetByRole(AriaRole.Button, new() { Name = "Record", Exact = true }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Stop" }).ClickAsync();
        await Assertions.Expect(page.Locator("#said")).ToHaveTextAsync("Stopped before the first beat: nothing was recorded.");
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "Record", Exact = true })).ToBeEnabledAsync();
        await page.GotoAsync(workbench.Address + "/takes");
        await Assertions.Expect(page.GetByText("No recordings yet")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task A_broken_file_is_answered_in_words()
    {
        await using var workbench = await OpenWorkbench.StartAsync(demo: false);
        var page = await workbench.PageAsync("/");
        await page.Locator("input[type=file]").SetInputFilesAsync(new FilePayload { Name = "broken.musicxml", MimeType = "text/xml", Buffer = "<score-partwise><part"u8.ToArray() });
        await Assertions.Expect(page.GetByRole(AriaRole.Alert)).ToContainTextAsync("broken.musicxml");
        AssertQuiet(workbench);
    }

    [Fact]
    public async Task The_live_lane_moves_with_the_sound()
    {
        await using var workbench = await OpenWorkbench.StartAsync(InventedTakes.Faulty.Value.Wav);
        var page = await workbench.PageAsync("/live");
        await page.GetByRole(AriaRole.Button, new() { Name = "Listen" }).ClickAsync();
        await page.WaitForFunctionAsync("() => /^[A-G]/.test(document.querySelector('#live-pitch').textContent)", null, new() { Timeout = 60_000 });
        var before = await page.EvaluateAsync<string>("() => document.querySelector('#live-lane').toDataURL()");
        await page.WaitForFunctionAsync("before => document.querySelector('#live-lane').toDataURL() !== before", before, new() { Timeout = 20_000 });
        Assert.Matches("From microphone to picture: \\d+ ms", await page.Locator("#live-delay").InnerTextAsync());
        await page.GetByRole(AriaRole.Button, new() { Name = "Stop" }).ClickAsync();
        AssertQuiet(workbench);
    }

    [Fact]
    public async Task The_play_along_moves_a_line_over_the_notes_in_time()
    {
        await using var workbench = await OpenWorkbench.StartAsync();
        var page = await workbench.PageAsync("/music/1");
        await page.GetByRole(AriaRole.Button, new() { Name = "Play", Exact = true }).FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await page.WaitForSelectorAsync(".cursor", new() { State = WaitForSelectorState.Attached, Timeout = 90_000 });

        // The line against the sound: where it stands and where the map has the moment that is heard.
        var off = await page.EvaluateAsync<double[]>(
            """
            async () => {
              const { placeAt } = await import(document.querySelector('script[src*="along.js"]').src);
              const offs = [];
              for (let i = 0; i < 40; i++) {
                await new Promise(requestAnimationFrame);
                if (!along.playing || !along.place) continue;
                const t = along.now(), begins = along.playing.map.moments.filter(m => m.begins);
                const here = begins.filter(m => m.at <= t).at(-1), next = begins.find(m => m.at > t);
                if (!here || !next || along.place.note !== here.note) continue;
                offs.push(Math.abs(here.at + (next.at - here.at) * along.place.share - t));
              }
              return offs;
            }
            """);
        Assert.True(off.Length > 10);
        Assert.InRange(off.Order().ElementAt(off.Length / 2), 0, 0.020);

        // Whoever began by keyboard ends by it.
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "Stop" })).ToBeFocusedAsync();
        await page.Keyboard.PressAsync("Enter");
        Assert.Equal(0, await page.Locator(".cursor").CountAsync());
        AssertQuiet(workbench);
    }

    [Fact]
    public async Task The_play_along_plays_again_after_the_piece_was_planned_anew()
    {
        await using var workbench = await OpenWorkbench.StartAsync();
        var page = await workbench.PageAsync("/music/1");
        await page.GetByRole(AriaRole.Button, new() { Name = "Play", Exact = true }).ClickAsync();
        await page.WaitForSelectorAsync(".cursor", new() { State = WaitForSelectorState.Attached, Timeout = 90_000 });
        await page.EvaluateAsync("() => { window.before = along; }");
        await page.RunAndWaitForResponseAsync(() => page.Locator("#key").SelectOptionAsync("C"), r => r.Url.EndsWith("/settings", StringComparison.Ordinal));
        await page.WaitForFunctionAsync("() => along !== before && before.playing === null");
        await page.Locator("#along-tempo").FillAsync("");
        await page.GetByRole(AriaRole.Button, new() { Name = "Play", Exact = true }).ClickAsync();
        await Assertions.Expect(page.Locator("#along [role=status]")).ToHaveTextAsync("The tempo must be a number from 10 to 400.");
        await page.Locator("#along-tempo").FillAsync("80");
        await page.GetByRole(AriaRole.Button, new() { Name = "Play", Exact = true }).ClickAsync();
        await page.WaitForSelectorAsync(".cursor", new() { State = WaitForSelectorState.Attached, Timeout = 90_000 });
        AssertQuiet(workbench);
    }

    private static readonly string[] Pages =
    [
        "/", "/?search=nothing-has-this", "/music/1", "/music/1/record", "/takes", "/live", "/help/piece", "/music/write", "/practice", "/practice?kind=three-passes",
        "/horns", "/horns/own-1", "/players", "/players/1", "/players/1/delete", "/books", "/books/1", "/takes/put-away",
        "/takes/1", "/takes/1/next", "/takes/2/beside/1", "/takes/3", "/takes/4", "/nowhere",
    ];

    [Theory]
    [InlineData(1440, false)]
    [InlineData(1440, true)]
    [InlineData(390, false)]
    [InlineData(390, true)]
    public async Task Every_page_can_be_used_by_everybody(int width, bool dark)
    {
        await using var workbench = await OpenWorkbench.StartAsync();
        await FurnishAsync(await workbench.PageAsync("/help/music"));
        await InventedTakes.BringAsync(workbench, InventedTakes.Each());
        foreach (var url in Pages)
        {
            var page = await workbench.PageAsync(url, width, dark);
            await page.WaitForLoadStateAsync(LoadState.NetworkIdle);
            var found = await page.RunAxe();
            Assert.Empty(found.Violations.Select(v => $"{url}: {v.Id}: {v.Help}: {string.Join(" | ", v.Nodes.Take(3).Select(n => n.Html))}"));
            Assert.True(await page.EvaluateAsync<bool>("() => document.documentElement.scrollWidth <= innerWidth"), $"{url} is wider than {width}");
            if (Environment.GetEnvironmentVariable("SHOTS") is { Length: > 0 } shots)
                await page.ScreenshotAsync(new() { Path = Path.Combine(shots, $"{NotLetters().Replace(url, "-")}-{width}-{(dark ? "dark" : "light")}.png"), FullPage = true });
        }

        Assert.Empty(workbench.Strangers);
        Assert.All(workbench.Complaints, c => Assert.Contains("404", c)); // of /nowhere
    }

    // A horn, a player with a long name and a book, as their forms make them.
    private static async Task FurnishAsync(IPage page) => await page.EvaluateAsync(
        """
        async () => {
          const send = (url, fields = {}) => fetch(url, { method: "POST", body: new URLSearchParams(fields) });
          await send("/horns/bass-independent/own");
          await send("/players", { name: "Wilhelmina-Constanze of the Lower Brass Reading Club" });
          await send("/players/1", { name: "Wilhelmina-Constanze of the Lower Brass Reading Club", horn: "own-1", level: 4, notes: "Air runs dry on the fourth bar; think of one long breath." });
          await send("/books/add?kind=three-passes&player=1", { book: 0 });
          await send("/books/add?kind=two-notes&player=1", { book: 1 });
        }
        """);

    private static void AssertQuiet(OpenWorkbench workbench)
    {
        Assert.Empty(workbench.Strangers);
        Assert.Empty(workbench.Complaints);
    }

    [GeneratedRegex("[^a-z0-9]+")]
    private static partial Regex NotLetters();
}
