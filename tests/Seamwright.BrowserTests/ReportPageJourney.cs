using System.Text;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Diagnosis.Page;
using Seamwright.Engraving;
using Seamwright.Engraving.Engines;
using Seamwright.Tests.Diagnoses;

namespace Seamwright.BrowserTests;

/// <summary>A reader opens the report page from a folder, on a desk or on a telephone, by day or by night.</summary>
/// <remarks>With <c>SHOTS=FOLDER</c> each visit leaves a picture of the whole page there, to be looked at.</remarks>
public sealed class ReportPageJourney(Browser browser) : IClassFixture<Browser>
{
    private const int Desk = 1440, Telephone = 390;

    // One melody with its music engraved for all journeys.
    private static readonly Lazy<(ReportText Report, PageMusic? Music)> Ferry = new(() =>
    {
        var played = PlayedMelody.Of("evening-ferry");
        using var engraver = Engravers.ForThisSystem();
        return (played.Report, new ReportMaker(engraver).Music(played.Part, played.Plan, played.Report));
    });

    public static TheoryData<int, bool> Visits => new() { { Desk, false }, { Desk, true }, { Telephone, false }, { Telephone, true } };

    [Theory]
    [MemberData(nameof(Visits))]
    public async Task It_opens_without_a_request_an_error_or_a_sideways_scroll(int width, bool dark)
    {
        var visit = await VisitAsync(width, dark, "Evening walk, take 1");
        Assert.Empty(visit.Requests);
        Assert.Empty(visit.Errors);
        Assert.Equal("Evening walk, take 1", await visit.Page.TitleAsync());
        var overflow = await visit.Page.EvaluateAsync<string[]>(
            "() => [...document.querySelectorAll('body *')].filter(e => e.getBoundingClientRect().right > innerWidth + 0.5 && getComputedStyle(e).position !== 'absolute' && !e.closest('thead') && !e.closest('svg')).map(e => e.outerHTML.slice(0, 120))");
        Assert.Empty(overflow);
        Assert.True(await visit.Page.EvaluateAsync<bool>("() => document.documentElement.scrollWidth <= innerWidth"));
    }

    [Theory]
    [InlineData(500)]
    [InlineData(800)]
    [InlineData(1151)]
    [InlineData(1280)]
    public async Task The_table_keeps_within_the_rules_above_and_below_it(int width)
    {
        var page = (await VisitAsync(width, dark: false, "Table")).Page;
        Assert.True(await page.EvaluateAsync<double>("() => document.querySelector('table').rows.length") > 10);
        Assert.InRange(await page.EvaluateAsync<double>("() => document.querySelector('table').scrollWidth - document.querySelector('h2').clientWidth"), -width, 0.5);
    }

    [Theory]
    [MemberData(nameof(Visits))]
    public async Task The_music_of_its_width_is_seen_and_every_picture_is_large_enough_to_read(int width, bool dark)
    {
        var page = (await VisitAsync(width, dark, "Pictures")).Page;
        var (shown, hidden) = width == Desk ? ("wide", "narrow") : ("narrow", "wide");
        var sizes = await page.EvaluateAsync<double[]>($"() => [...document.querySelectorAll('.music.{shown} svg')].map(s => Math.min(s.getBoundingClientRect().width - 300, s.getBoundingClientRect().height - 60))");
        Assert.True(sizes.Length >= 3);
        Assert.All(sizes, s => Assert.True(s > 0));
        Assert.Equal(0, await page.EvaluateAsync<double>($"() => document.querySelector('.music.{hidden} svg').getBoundingClientRect().height"));

        // The notes' heads are shapes referred to from another element: they are drawn only where that reference holds.
        Assert.True(await page.EvaluateAsync<double>($"() => document.querySelector('.music.{shown} use').getBoundingClientRect().height") > 2);
        var words = await page.EvaluateAsync<double[]>($"() => [...document.querySelectorAll('.music.{shown} .heard text')].map(t => t.getBoundingClientRect().height)");
        Assert.All(words, w => Assert.InRange(w, 10, 26));
        var print = await page.EvaluateAsync<double[]>("() => [...document.querySelectorAll('.picture text')].map(t => t.getBoundingClientRect().height)");
        Assert.True(print.Length > 50);
        Assert.All(print, p => Assert.InRange(p, 9, 16));
    }

    [Theory]
    [MemberData(nameof(Visits))]
    public async Task Whoever_has_only_a_keyboard_gets_from_the_table_to_each_picture(int width, bool dark)
    {
        var page = (await VisitAsync(width, dark, "Keyboard")).Page;
        var links = await page.EvaluateAsync<int>("() => document.querySelectorAll('a[href]').length");
        Assert.Equal(await page.Locator("article").CountAsync(), links);
        for (var i = 1; i <= links; i++)
        {
            await page.Keyboard.PressAsync("Tab");
            Assert.Equal($"#picture-{i}", await page.EvaluateAsync<string>("() => document.activeElement.getAttribute('href')"));
            Assert.True(await page.EvaluateAsync<bool>("() => getComputedStyle(document.activeElement).outlineStyle === 'solid'"));
        }

        await page.Keyboard.PressAsync("Enter");
        Assert.Equal($"#picture-{links}", await page.EvaluateAsync<string>("() => location.hash"));
        Assert.True(await page.EvaluateAsync<bool>("() => { const b = document.querySelector(location.hash).getBoundingClientRect(); return b.top < innerHeight && b.bottom > 0; }"));
    }

    [Theory]
    [MemberData(nameof(Visits))]
    public async Task Words_stand_out_from_their_ground(int width, bool dark)
    {
        // WCAG 2.2, success criterion 1.4.3: 4.5 to 1; the ground is the page's own.
        var page = (await VisitAsync(width, dark, "Contrast")).Page;
        var faint = await page.EvaluateAsync<string[]>(
            """
            () => {
              const lum = c => { const [r, g, b] = c.match(/[\d.]+/g).map(Number).map(v => v / 255).map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4); return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
              const ground = lum(getComputedStyle(document.body).backgroundColor);
              const ratio = c => { const l = lum(c); return (Math.max(l, ground) + 0.05) / (Math.min(l, ground) + 0.05); };
              const colour = e => ['text', 'tspan'].includes(e.tagName) ? getComputedStyle(e).fill : getComputedStyle(e).color;
              return [...document.querySelectorAll('h1, h2, p, li, td, th, caption, dt, dd, span, text, tspan')].filter(e => e.textContent.trim() && ratio(colour(e)) < 4.5).map(e => e.outerHTML.slice(0, 80));
            }
            """);
        Assert.Empty(faint);
        var ink = await page.EvaluateAsync<string>("() => getComputedStyle(document.body).color");
        Assert.Equal([ink], await page.EvaluateAsync<string[]>("() => [...new Set([...document.querySelectorAll('.music use')].map(u => getComputedStyle(u).fill))]"));
    }

    [Fact]
    public async Task No_word_in_a_picture_lies_on_another()
    {
        foreach (var width in new[] { Desk, Telephone })
        {
            var page = (await VisitAsync(width, false, "Words")).Page;
            var hits = await page.EvaluateAsync<string[]>(
                """
                () => [...document.querySelectorAll('svg.picture')].filter(s => s.getBoundingClientRect().height).flatMap(s => {
                  const words = [...s.querySelectorAll('text')].map(t => ({ t: t.textContent, b: t.getBoundingClientRect(), r: s.getBoundingClientRect() }));
                  const found = words.filter(w => w.b.left < w.r.left - 1 || w.b.right > w.r.right + 1 || w.b.top < w.r.top - 1 || w.b.bottom > w.r.bottom + 1).map(w => 'outside: ' + w.t);
                  for (let i = 0; i < words.length; i++) for (let j = i + 1; j < words.length; j++) {
                    const a = words[i].b, b = words[j].b;
                    if (a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 2 && b.top < a.bottom - 2) found.push(words[i].t + ' / ' + words[j].t);
                  }
                  return found;
                })
                """);
            Assert.Empty(hits);
        }
    }

    [Fact]
    public async Task It_is_a_page_that_can_be_read_by_its_headings_and_tables()
    {
        var page = (await VisitAsync(Desk, false, "Headings")).Page;
        var levels = await page.EvaluateAsync<int[]>("() => [...document.querySelectorAll('h1,h2,h3,h4')].map(h => +h.tagName[1])");
        Assert.Equal(1, levels[0]);
        Assert.Equal(1, levels.Count(l => l == 1));
        for (var i = 1; i < levels.Length; i++) Assert.True(levels[i] <= levels[i - 1] + 1);
        Assert.Equal("en", await page.EvaluateAsync<string>("() => document.documentElement.lang"));
        Assert.Equal(3, await page.EvaluateAsync<int>("() => ['header', 'main', 'footer'].filter(t => document.querySelectorAll(t).length === 1).length"));
        Assert.Equal(1, await page.GetByRole(AriaRole.Table).CountAsync());
        Assert.True(await page.GetByRole(AriaRole.Columnheader).CountAsync() == 11);
        Assert.Equal(0, await page.EvaluateAsync<int>("() => [...document.querySelectorAll('[id]')].length - new Set([...document.querySelectorAll('[id]')].map(e => e.id)).size"));
        Assert.True(await page.GetByRole(AriaRole.Img, new() { Name = "Pitch, level and slide around change" }).CountAsync() >= 6);
    }

    [Fact]
    public async Task On_a_telephone_the_tables_are_still_tables_to_those_who_listen()
    {
        var page = (await VisitAsync(Telephone, false, "Tables")).Page;

        // What the browser itself tells a screen reader: some browsers take a table laid out as blocks for no table.
        var session = await page.Context.NewCDPSessionAsync(page);
        var tree = await session.SendAsync("Accessibility.getFullAXTree");
        var roles = tree!.Value.GetProperty("nodes").EnumerateArray().Where(n => n.TryGetProperty("role", out _)).Select(n => n.GetProperty("role").GetProperty("value").GetString()).ToList();
        Assert.Equal(1, roles.Count(r => r == "table"));
        Assert.True(roles.Count(r => r == "columnheader") >= 11);
        Assert.True(roles.Count(r => r == "row") > 20);
        Assert.True(roles.Count(r => r == "cell") > 200);
    }

    [Fact]
    public async Task Printed_it_is_black_on_white_and_large_enough_to_read()
    {
        var page = (await VisitAsync(Telephone, true, "Print")).Page;
        var pdf = await page.PdfAsync(new() { Format = "A4", Margin = new() { Top = "15mm", Bottom = "15mm", Left = "15mm", Right = "15mm" } });
        Assert.True(pdf.Length > 10_000);
        Assert.InRange(Regex.Count(Encoding.Latin1.GetString(pdf), @"/Type\s*/Page\b"), 1, 6);
        Keep("print.pdf", pdf);
        await page.EmulateMediaAsync(new() { Media = Media.Print });

        // A4 less its margins is 680 pixels wide; 8 pixels are 6 points.
        await page.SetViewportSizeAsync(680, 900);
        Assert.True(await page.EvaluateAsync<double>("() => Math.min(...[...document.querySelectorAll('.picture text')].map(t => t.getBoundingClientRect().height))") >= 8);
        Assert.Equal("table", await page.EvaluateAsync<string>("() => getComputedStyle(document.querySelector('table')).display"));
        Assert.Equal("rgb(255, 255, 255)", await page.EvaluateAsync<string>("() => getComputedStyle(document.body).backgroundColor"));
    }

    [Fact]
    public async Task A_title_that_is_an_attack_is_only_a_title()
    {
        const string Attack = "<img src=x onerror=\"document.title='hit'\"><script>document.title='hit'</script>";
        var visit = await VisitAsync(Desk, false, Attack);
        Assert.Equal(Attack, await visit.Page.TitleAsync());
        Assert.Equal(Attack, await visit.Page.Locator("h1").TextContentAsync());
        Assert.Empty(visit.Requests);
    }

    private async Task<Visit> VisitAsync(int width, bool dark, string title)
    {
        var page = await browser.OpenAsync(width, dark);
        var file = Path.Combine(Path.GetTempPath(), $"seamwright-{Path.GetRandomFileName()}.html");
        var address = new Uri(file).AbsoluteUri;
        var visit = new Visit(page, [], []);
        page.Request += (_, request) =>
        {
            if (request.Url != address && !request.Url.StartsWith("data:", StringComparison.Ordinal)) visit.Requests.Add(request.Url);
        };
        page.Console += (_, message) =>
        {
            if (message.Type is "error" or "warning") visit.Errors.Add(message.Text);
        };
        page.PageError += (_, error) => visit.Errors.Add(error);
        try
        {
            await File.WriteAllTextAsync(file, Report(title), TestContext.Current.CancellationToken);
            await page.GotoAsync(address);
        }
        finally
        {
            File.Delete(file);
        }

        Keep($"report-{width}{(dark ? "-dark" : "")}.png", await page.ScreenshotAsync(new() { FullPage = true }));
        return visit;
    }

    private static string Report(string title)
    {
        var (report, music) = Ferry.Value;
        using var writer = new StringWriter();
        ReportPage.Write(report with { Heading = new(title, "take 7.wav", "Ida") }, music, writer);
        return writer.ToString();
    }

    private static void Keep(string name, byte[] content)
    {
        if (Environment.GetEnvironmentVariable("SHOTS") is { Length: > 0 } folder) File.WriteAllBytes(Path.Combine(folder, name), content);
    }

    private sealed record Visit(IPage Page, List<string> Requests, List<string> Errors);
}
