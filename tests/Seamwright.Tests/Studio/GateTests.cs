using System.Net;

namespace Seamwright.Tests.Studio;

public class GateTests
{
    [Theory]
    [InlineData("localhost", HttpStatusCode.OK)]
    [InlineData("127.0.0.1", HttpStatusCode.OK)]
    [InlineData("evil.example", HttpStatusCode.MisdirectedRequest)]
    public async Task Only_this_computers_own_names_are_answered(string host, HttpStatusCode status)
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        using var request = new HttpRequestMessage(HttpMethod.Get, "/") { Headers = { Host = host } };
        Assert.Equal(status, (await workbench.SendAsync(request)).StatusCode);
    }

    [Theory]
    [InlineData("Origin", "http://evil.example", HttpStatusCode.Forbidden)]
    [InlineData("Origin", "null", HttpStatusCode.Forbidden)]
    [InlineData("Sec-Fetch-Site", "cross-site", HttpStatusCode.Forbidden)]
    [InlineData("Sec-Fetch-Site", "same-site", HttpStatusCode.Forbidden)]
    [InlineData("Origin", "http://localhost", HttpStatusCode.Found)]
    public async Task Another_sites_page_changes_nothing_here(string header, string value, HttpStatusCode status)
    {
        await using var workbench = await Workbench.StartAsync();
        using var request = new HttpRequestMessage(HttpMethod.Post, "/music/1/remove");
        request.Headers.Add(header, value);
        Assert.Equal(status, (await workbench.SendAsync(request)).StatusCode);
        Assert.Equal(status == HttpStatusCode.Found ? HttpStatusCode.NotFound : HttpStatusCode.OK, (await workbench.GetAsync("/music/1")).StatusCode);
    }

    [Fact]
    public async Task Every_answer_lets_a_page_use_this_origin_alone()
    {
        await using var workbench = await Workbench.StartAsync();
        foreach (var url in new[] { "/", "/music/1", "/takes", "/live", "/nowhere", "/music/1/record" })
        {
            var answer = await workbench.GetAsync(url);
            var policy = Assert.Single(answer.Headers.GetValues("Content-Security-Policy"));
            Assert.StartsWith("default-src 'none'", policy);
            Assert.DoesNotContain("unsafe", policy);
            Assert.Equal("nosniff", Assert.Single(answer.Headers.GetValues("X-Content-Type-Options")));
            var page = await answer.TextAsync();
            Assert.DoesNotMatch("(src|href|action)=\"(https?:)?//", page);
            Assert.DoesNotMatch(" style=\"| on[a-z]+=\"|<style", page);
        }
    }

    [Fact]
    public async Task A_file_larger_than_the_workbench_takes_is_refused_in_words()
    {
        await using var workbench = await Workbench.StartAsync(demo: false);
        var answer = await workbench.PostAsync("/music/add", Workbench.FileForm("file", "large.musicxml", new byte[20_000_001]));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        Assert.Contains("is larger than 20 MB", await answer.TextAsync());
    }

    [Fact]
    public async Task A_data_folder_belongs_to_one_workbench_at_a_time()
    {
        var first = await Workbench.StartAsync(demo: false);
        var refused = await Assert.ThrowsAsync<IOException>(() => Workbench.StartAsync(first.Folder, demo: false));
        Assert.Contains("already open", refused.Message);
        await first.DisposeAsync();
        await using var second = await Workbench.StartAsync(first.Folder, demo: false);
        await second.PageAsync("/");
    }
}
