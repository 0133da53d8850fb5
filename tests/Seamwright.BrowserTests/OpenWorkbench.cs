using Microsoft.AspNetCore.Builder;
using Microsoft.Playwright;
using Seamwright.Studio;
using Seamwright.Tests;

namespace Seamwright.BrowserTests;

/// <summary>The workbench as it is served on loopback, and a browser of its own whose microphone is a file.</summary>
internal sealed class OpenWorkbench : IAsyncDisposable
{
    private readonly IPlaywright playwright;
    private readonly IBrowser browser;
    private WebApplication app;

    private OpenWorkbench(IPlaywright playwright, IBrowser browser, WebApplication app, string folder) => (this.playwright, this.browser, this.app, Folder) = (playwright, browser, app, folder);

    public string Folder { get; }

    public string Address => app.Urls.First();

    /// <summary>What any page asked of another host; must stay empty.</summary>
    public List<string> Strangers { get; } = [];

    /// <summary>What any page's console complained of.</summary>
    public List<string> Complaints { get; } = [];

    /// <summary>Starts both; skips the test where there is no browser.</summary>
    /// <param name="microphone">A WAV file that is heard once; null for the browser's own beeps.</param>
    /// <param name="demo">Whether the invented melodies are there.</param>
    public static async Task<OpenWorkbench> StartAsync(string? microphone = null, bool demo = true)
    {
        if (!File.Exists(Browser.Path)) Assert.Skip($"reason: no Chromium at {Browser.Path} (install the package chromium, or set CHROMIUM)");
        var folder = Directory.CreateTempSubdirectory("seamwright-journey").FullName;
        var app = await ServeAsync(folder, demo);
        var playwright = await Playwright.CreateAsync();
        string[] sound = ["--use-fake-ui-for-media-stream", "--use-fake-device-for-media-stream", "--autoplay-policy=no-user-gesture-required"];
        var browser = await playwright.Chromium.LaunchAsync(new()
        {
            ExecutablePath = Browser.Path,
            Headless = true,
            Args = [.. Browser.Switches, .. sound, .. microphone is null ? Array.Empty<string>() : [$"--use-file-for-fake-audio-capture={microphone}%noloop"]],
        });
        return new OpenWorkbench(playwright, browser, app, folder);
    }

    /// <summary>Stops the server and starts another one on the same data and address.</summary>
    public async Task StartAgainAsync()
    {
        var address = Address;
        await app.DisposeAsync();
        app = StudioHost.Build(new StudioSettings { DataFolder = Folder, Urls = [address] }, TimeProvider.System);
        await app.StartAsync();
    }

    public async Task<IPage> PageAsync(string url, int width = 1440, bool dark = false)
    {
        var context = await browser.NewContextAsync(new()
        {
            ViewportSize = new() { Width = width, Height = width < 500 ? 844 : 900 },
            ColorScheme = dark ? ColorScheme.Dark : ColorScheme.Light,
            Permissions = ["microphone"],
            AcceptDownloads = true,
        });
        var page = await context.NewPageAsync();
        page.Request += (_, r) =>
        {
            if (!r.Url.StartsWith(Address, StringComparison.Ordinal) && !r.Url.StartsWith("data:", StringComparison.Ordinal) && !r.Url.StartsWith("blob:", StringComparison.Ordinal)) Strangers.Add(r.Url);
        };
        page.Console += (_, m) =>
        {
            // A refused upload is an answer, not a complaint of the page.
            if (m.Type == "error" && !m.Text.Contains("422", StringComparison.Ordinal)) Complaints.Add(m.Text);
        };
        page.PageError += (_, e) => Complaints.Add(e);
        await page.GotoAsync(Address + url);
        return page;
    }

    public async ValueTask DisposeAsync()
    {
        await browser.DisposeAsync();
        playwright.Dispose();
        await app.DisposeAsync();
        Directory.Delete(Folder, recursive: true);
    }

    private static async Task<WebApplication> ServeAsync(string folder, bool demo)
    {
        var melodies = Path.Combine(Repository.Root, "src", "Seamwright.Cli", "Melodies");
        var app = StudioHost.Build(new StudioSettings { DataFolder = folder, DemoFolder = demo ? melodies : null }, TimeProvider.System);
        await app.StartAsync();
        return app;
    }
}
