using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace Seamwright.BrowserTests;

/// <summary>A part of 120 bars in a real browser: its plan follows a changed setting where the reader is.</summary>
public sealed class LongPieceJourney
{
    private static readonly string Tune = "X:1\nT:Long Way Home\nL:1/8\nM:4/4\nK:Bb clef=bass\n" + string.Concat(Enumerable.Repeat("(B,,C,D,E, F,G,A,B,) | (CB,A,G, F,E,D,C,) |\n", 60));

    [Fact]
    public async Task What_is_looked_at_is_planned_first_and_stays_in_its_place()
    {
        await using var workbench = await OpenWorkbench.StartAsync(demo: false);
        var page = await workbench.PageAsync("/");
        await page.Locator("input[type=file]").SetInputFilesAsync(new FilePayload { Name = "long.abc", MimeType = "text/plain", Buffer = System.Text.Encoding.UTF8.GetBytes(Tune) });
        await page.WaitForURLAsync(workbench.Address + "/music/1");
        await WholeAsync(page);

        // The system with bar 61 at the top of the window; its first note is followed.
        var place = await page.EvaluateAsync<double>("() => { const f = document.querySelector('[data-note=\"480\"]').closest('figure'); scrollBy({ top: f.getBoundingClientRect().top - 5, behavior: 'instant' }); return f.getBoundingClientRect().top; }");
        var (bar, note) = (await page.EvaluateAsync<string>("() => document.querySelector('[data-note=\"480\"]').closest('figure').dataset.bar"), await page.EvaluateAsync<string>("() => document.querySelector('[data-note=\"480\"]').closest('figure').querySelector('[data-note]').dataset.note"));
        var answer = await page.RunAndWaitForResponseAsync(() => page.Locator("#instrument").SelectOptionAsync("bass-dependent-d"), r => r.Url.EndsWith("/settings", StringComparison.Ordinal));
        Assert.Equal(bar, Regex.Match(await answer.TextAsync(), "data-bar=\"(\\d+)\"").Groups[1].Value);
        await WholeAsync(page);
        var now = await page.EvaluateAsync<double>($"() => document.querySelector('[data-note=\"{note}\"]').closest('figure').getBoundingClientRect().top");
        Assert.InRange(now, place - 60, place + 60);
        Assert.Empty(workbench.Complaints);
    }

    [Fact]
    public async Task The_keyboard_passes_the_music_in_one_stop_and_walks_in_it_with_the_arrows()
    {
        await using var workbench = await OpenWorkbench.StartAsync();
        var page = await workbench.PageAsync("/music/1");
        await WholeAsync(page, 1);
        Assert.Equal(1, await page.Locator(".score a.touch[tabindex='0']").CountAsync());
        var notes = page.Locator(".score a.touch");
        await notes.First.FocusAsync();
        await page.Keyboard.PressAsync("ArrowRight");
        await page.Keyboard.PressAsync("ArrowRight");
        await Assertions.Expect(notes.Nth(2)).ToBeFocusedAsync();
        await page.Keyboard.PressAsync("End");
        await Assertions.Expect(notes.Last).ToBeFocusedAsync();
        await page.Keyboard.PressAsync("Tab");
        await Assertions.Expect(page.Locator(".panel :focus")).ToHaveCountAsync(1);
    }

    [Fact]
    public async Task End_goes_to_the_last_note_even_while_the_rest_is_on_its_way()
    {
        await using var workbench = await OpenWorkbench.StartAsync(demo: false);
        var page = await workbench.PageAsync("/");
        var held = new TaskCompletionSource();
        await page.RouteAsync("**/systems*", async route =>
        {
            await held.Task;
            await route.ContinueAsync();
        });
        await page.Locator("input[type=file]").SetInputFilesAsync(new FilePayload { Name = "long.abc", MimeType = "text/plain", Buffer = System.Text.Encoding.UTF8.GetBytes(Tune) });
        await page.WaitForURLAsync(workbench.Address + "/music/1");
        await page.Locator(".score a.touch").First.FocusAsync();
        await page.Keyboard.PressAsync("End");
        held.SetResult();
        await WholeAsync(page);
        await Assertions.Expect(page.Locator(".score a.touch").Last).ToBeFocusedAsync();
    }

    // Every note once and in order, and none of what was there before.
    private static async Task WholeAsync(IPage page, int least = 960)
    {
        await Assertions.Expect(page.Locator(".score .more, .score .waiting")).ToHaveCountAsync(0, new() { Timeout = 60_000 });
        var notes = await page.Locator(".score [data-note]").EvaluateAllAsync<int[]>("all => all.map(a => Number(a.dataset.note))");
        Assert.True(notes.Length >= least, $"{notes.Length} notes");
        Assert.Equal(Enumerable.Range(0, notes.Length), notes);
    }
}
