using System.Net.Http.Json;
using System.Text.Json;
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
        client = Open();
    }

    public string Folder { get; }

    // Follows no redirects: where they lead is part of the answer.
    private readonly HttpClient client;

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
        var answer = await GetAsync(url);
        Assert.True(answer.IsSuccessStatusCode, $"{url}: {answer.StatusCode}");
        return await answer.TextAsync();
    }

    /// <summary>The page's text as a reader sees it: references of characters resolved, tags left.</summary>
    public async Task<string> TextAsync(string url) => System.Net.WebUtility.HtmlDecode(await PageAsync(url));

    /// <summary>What long work has made, begun by a form without fields.</summary>
    public async Task<byte[]> MadeAsync(string url)
    {
        var answer = await PostAsync(url, null);
        var page = answer.StatusCode == System.Net.HttpStatusCode.Redirect ? await PageAsync(answer.Headers.Location!.OriginalString) : await answer.TextAsync();
        while (!page.Contains("data-ready", StringComparison.Ordinal))
        {
            Assert.Contains("data-work=", page);
            await Task.Delay(100, TestContext.Current.CancellationToken);
            page = await PageAsync(answer.Headers.Location!.OriginalString);
        }

        return await (await GetAsync(System.Text.RegularExpressions.Regex.Match(page, "/work/\\d+/file").Value)).BytesAsync();
    }

    public Task<HttpResponseMessage> GetAsync(string url) => client.GetAsync(url, TestContext.Current.CancellationToken);

    public Task<HttpResponseMessage> PostAsync(string url, HttpContent? content) => client.PostAsync(url, content, TestContext.Current.CancellationToken);

    public Task<HttpResponseMessage> PostJsonAsync(string url, object content) => client.PostAsJsonAsync(url, content, TestContext.Current.CancellationToken);

    public Task<HttpResponseMessage> SendAsync(HttpRequestMessage request) => client.SendAsync(request, TestContext.Current.CancellationToken);

    public async ValueTask DisposeAsync()
    {
        client.Dispose();
        await app.DisposeAsync();
    }

    private HttpClient Open()
    {
        var made = app.GetTestClient();
        made.BaseAddress = new Uri("http://localhost");
        return made;
    }
}

/// <summary>What an answer holds.</summary>
internal static class Answers
{
    public static Task<string> TextAsync(this HttpResponseMessage answer) => answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);

    public static Task<byte[]> BytesAsync(this HttpResponseMessage answer) => answer.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken);

    public static Task<JsonElement> JsonAsync(this HttpResponseMessage answer) => answer.Content.ReadFromJsonAsync<JsonElement>(TestContext.Current.CancellationToken);
}
