using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.TestHost;
using Seamwright.Studio;

namespace Seamwright.Tests.Studio;

/// <summary>The real workbench over a data folder of its own, without a network.</summary>
public sealed class Workbench : IAsyncDisposable
{
    private readonly WebApplication app;

    private Workbench(WebApplication app, string folder)
    {
        (this.app, Folder) = (app, folder);
        Client = Open();
    }

    public string Folder { get; }

    /// <summary>Follows no redirects: where they lead is part of the answer.</summary>
    public HttpClient Client { get; }

    public static async Task<Workbench> StartAsync(string? folder = null, bool demo = true)
    {
        folder ??= Directory.CreateTempSubdirectory("seamwright-workbench").FullName;
        var settings = new StudioSettings { DataFolder = folder, DemoFolder = demo ? Melodies : null };
        var app = StudioHost.Build(settings, TimeProvider.System, b => b.WebHost.UseTestServer());
        await app.StartAsync();
        return new Workbench(app, folder);
    }

    public static string Melodies => Path.Combine(Repository.Root, "src", "Seamwright.Cli", "Melodies");

    /// <summary>A form with files.</summary>
    public static MultipartFormDataContent FileForm(string name, string fileName, byte[] content) => new() { { new ByteArrayContent(content), name, fileName } };

    public static FormUrlEncodedContent Form(params (string Name, string Value)[] fields) => new(fields.Select(f => KeyValuePair.Create(f.Name, f.Value)));

    /// <summary>The page's text.</summary>
    public async Task<string> PageAsync(string url)
    {
        var answer = await Client.GetAsync(url);
        Assert.True(answer.IsSuccessStatusCode, $"{url}: {answer.StatusCode}");
        return await answer.Content.ReadAsStringAsync();
    }

    public async ValueTask DisposeAsync()
    {
        Client.Dispose();
        await app.DisposeAsync();
    }

    private HttpClient Open()
    {
        var client = app.GetTestClient();
        client.BaseAddress = new Uri("http://localhost");
        return client;
    }
}
