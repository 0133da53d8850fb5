using Microsoft.Playwright;

namespace Seamwright.BrowserTests;

/// <summary>One real Chromium for all journeys.</summary>
public sealed class Browser : IAsyncLifetime
{
    private const string Usual = "/usr/bin/chromium";

    // The system's own browser, no sandbox because tests may run as root, and none of its own talk with hosts.
    internal static readonly string[] Switches =
        ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"];

    private IPlaywright? playwright;
    private IBrowser? browser;

    /// <summary>Where the browser is; <c>CHROMIUM</c> names another one.</summary>
    public static string Path { get; } = Environment.GetEnvironmentVariable("CHROMIUM") ?? Usual;

    public async ValueTask InitializeAsync()
    {
        if (!File.Exists(Path)) return;
        playwright = await Playwright.CreateAsync();
        browser = await playwright.Chromium.LaunchAsync(new() { ExecutablePath = Path, Headless = true, Args = Switches });
    }

    /// <summary>A fresh page; skips the test where there is no browser.</summary>
    /// <param name="width">Of the window, CSS pixels.</param>
    /// <param name="dark">The colour scheme the reader prefers.</param>
    public async Task<IPage> OpenAsync(int width, bool dark = false)
    {
        if (browser is null) Assert.Skip($"reason: no Chromium at {Path} (install the package chromium, or set CHROMIUM)");
        var context = await browser!.NewContextAsync(new()
        {
            ViewportSize = new() { Width = width, Height = 900 },
            ColorScheme = dark ? ColorScheme.Dark : ColorScheme.Light,
        });
        return await context.NewPageAsync();
    }

    public async ValueTask DisposeAsync()
    {
        if (browser is not null) await browser.DisposeAsync();
        playwright?.Dispose();
    }
}
