using Microsoft.Playwright;

namespace Seamwright.BrowserTests;

/// <summary>What was heard, gone through in a real browser.</summary>
public sealed class TakeJourney
{
    [Fact]
    public async Task Troubles_are_gone_through_one_by_one_and_kind_by_kind()
    {
        await using var workbench = await OpenWorkbench.StartAsync();
        await InventedTakes.BringAsync(workbench, [InventedTakes.Many()]);
        var page = await workbench.PageAsync("/takes/1");
        var all = await page.Locator("a[data-trouble]").CountAsync();
        var stopped = await page.Locator("a[data-trouble][data-verdicts~=AirStopped]").CountAsync();
        Assert.InRange(stopped, 1, all - 1);

        await page.Keyboard.PressAsync("n");
        await Assertions.Expect(page.Locator("#panel .steps")).ToContainTextAsync($"1 of {all}");
        await page.GetByRole(AriaRole.Button, new() { Name = "next trouble" }).ClickAsync();
        await Assertions.Expect(page.Locator("#panel .steps")).ToContainTextAsync($"2 of {all}");
        await page.Locator("button[data-only=AirStopped]").ClickAsync();
        await Assertions.Expect(page.Locator("[data-chosen]")).ToContainTextAsync($"{stopped} of {all} to mend are shown");
        for (var i = 0; i < stopped; i++)
        {
            await page.Keyboard.PressAsync("n");
            await Assertions.Expect(page.Locator("#panel .verdicts")).ToContainTextAsync("air stopped");
        }

        Assert.Equal(0, await page.Locator(".heard a.touch:not(.aside):not([data-verdicts~=AirStopped])").CountAsync());
        Assert.Empty(workbench.Complaints);
    }
}
