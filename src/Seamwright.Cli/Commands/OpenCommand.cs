using System.CommandLine;
using System.ComponentModel;
using System.Diagnostics;
using Microsoft.Extensions.Hosting;
using Seamwright.Cli.Input;
using Seamwright.Core;
using Seamwright.Studio;

namespace Seamwright.Cli.Commands;

/// <summary><c>seamwright open</c>: the workbench in the browser, served from this computer.</summary>
internal static class OpenCommand
{
    public static Command Build(Terminal terminal, TimeProvider clock)
    {
        var noBrowser = new Option<bool>("--no-browser") { Description = "Only serve; say the address." };
        var urls = new Option<string[]>("--urls") { Description = $"Where to listen. Default {StudioSettings.DefaultUrl} (any free port, this computer only).", HelpName = "URL" };
        urls.Validators.Add(r =>
        {
            foreach (var token in r.Tokens.Where(t => !IsAddress(t.Value))) r.AddError($"'{token.Value}' is not an address such as http://127.0.0.1:5000.");
        });
        var data = new FileOption<string?>(FileUse.Folder, "The folder of the database and the recordings. Default: Seamwright in your own data folder.", "--data");
        var command = new Command("open", "Open the workbench in the browser: music, plan, sound, recordings.") { noBrowser, urls, data };
        command.SetAction((result, stop) => Serve(terminal, clock, SettingsOf(result.GetValue(urls) ?? [], result.GetValue(data)), !result.GetValue(noBrowser), stop));
        return command;
    }

    private static bool IsAddress(string text) => Uri.TryCreate(text, UriKind.Absolute, out var uri) && uri.Scheme == Uri.UriSchemeHttp && uri.PathAndQuery == "/";

    private static StudioSettings SettingsOf(string[] urls, string? data)
    {
        var made = new StudioSettings
        {
            DataFolder = Path.GetFullPath(data ?? Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify), "seamwright")),
            DemoFolder = Path.Combine(AppContext.BaseDirectory, "Melodies"),
        };
        return urls.Length == 0 ? made : made with { Urls = [.. urls] };
    }

    private static async Task<int> Serve(Terminal terminal, TimeProvider clock, StudioSettings settings, bool browse, CancellationToken stop)
    {
        await using var app = StudioHost.Build(settings, clock);
        await app.StartAsync(stop);
        var address = app.Urls.First();
        terminal.Paragraph($"The workbench is open at {address} (stop it with Ctrl+C). Its data lie in {settings.DataFolder}.");
        if (settings.Urls.Where(u => !IsHere(u)).ToList() is { Count: > 0 } open)
            terminal.Report([new Problem(string.Join(", ", open), "can be reached from the network: whoever reaches it sees and changes everything here, pupils' recordings too.", "Use it only where you trust everybody; without --urls it is this computer alone.")]);
        if (browse && !Browse(address)) terminal.Paragraph("No browser could be started here: open that address yourself.");
        await app.WaitForShutdownAsync(stop);
        return ExitCode.Done;
    }

    private static bool IsHere(string url) => new Uri(url.Replace("://*", "://0.0.0.0", StringComparison.Ordinal).Replace("://+", "://0.0.0.0", StringComparison.Ordinal)).IsLoopback;

    private static bool Browse(string address)
    {
        try
        {
            using var process = Process.Start(new ProcessStartInfo(address) { UseShellExecute = true });
            return true;
        }
        catch (Exception e) when (e is Win32Exception or PlatformNotSupportedException or InvalidOperationException)
        {
            return false;
        }
    }
}
