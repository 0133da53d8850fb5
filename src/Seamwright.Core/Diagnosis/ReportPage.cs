using Seamwright.Core.Diagnosis.Page;

namespace Seamwright.Core.Diagnosis;

/// <summary>A report as one HTML page that needs nothing else: no host, no script, no other file.</summary>
public static class ReportPage
{
    // Nothing may be fetched and nothing may run; the page's own style is all that is let in.
    private const string Policy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'";

    /// <summary>Writes the page.</summary>
    /// <param name="report">What it says.</param>
    /// <param name="music">The engraved line; null where no engraver is at hand.</param>
    /// <param name="output">Gets HTML to be stored as UTF-8.</param>
    public static void Write(ReportText report, PageMusic? music, TextWriter output)
    {
        var html = new HtmlText(output);
        var parts = new ReportParts(report, html);
        Head(html, report.Heading);
        Top(html, report);
        parts.Work();
        parts.Music(music);
        parts.Troubles();
        parts.Lists();
        parts.Unknown();
        parts.Table();
        parts.Measures();
        html.Line($"""</main><footer><div class="care">""");
        foreach (var line in Cautions.Lines) html.Line($"<p>{line}</p>");
        html.Line($"</div></footer></body></html>");
    }

    private static void Head(HtmlText html, ReportHeading heading)
    {
        html.Raw("<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\n");
        html.Line($"""<meta http-equiv="Content-Security-Policy" content="{new Markup(Policy)}">""");
        html.Raw("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<link rel=\"icon\" href=\"data:,\">\n");
        html.Line($"<title>{heading.Title}</title>");
        html.Raw("<style>\n" + PageStyle.Css + "\n</style></head>\n");
    }

    private static void Top(HtmlText html, ReportText report)
    {
        html.Line($"""<body><header><h1>{report.Heading.Title}</h1>""");
        var under = string.Join(" · ", new[] { report.Heading.Pupil.Length > 0 ? $"For {report.Heading.Pupil}" : "", report.Instrument, report.Heading.Take }.Where(t => t.Length > 0));
        html.Line($"""<p class="under">{under}</p></header><main>""");
    }
}
