using Seamwright.Core.Diagnosis.Page;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>A take and its diagnosis as one HTML page that needs nothing else: no host, no script, no other file.</summary>
public static class ReportPage
{
    // Nothing may be fetched and nothing may run; the page's own style is all that is let in.
    private const string Policy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'";

    /// <summary>Writes the page.</summary>
    /// <param name="take">What was heard.</param>
    /// <param name="diagnosis">What is said about it.</param>
    /// <param name="plan">What was asked for.</param>
    /// <param name="title">Heading, any text.</param>
    /// <param name="output">Gets HTML to be stored as UTF-8.</param>
    /// <exception cref="ArgumentException">Take, diagnosis and plan are not of the same line.</exception>
    public static void Write(Take take, Diagnosis diagnosis, Plan plan, string title, TextWriter output)
    {
        TakeParts.Check(take, diagnosis, plan);
        var html = new HtmlText(output);
        Head(html, title);
        html.Line($"""<body><header><h1>{title}</h1><p class="under">What was heard, note change by note change · {plan.Instrument.Name}</p></header><main>""");
        Summary(take, diagnosis, html);
        html.Line($"""<h2 id="trace">Pitch and level</h2>""");
        Legend(diagnosis, html);
        new Traces(take, diagnosis, plan, html).Draw();
        var tables = new Tables(take, diagnosis, plan, html);
        html.Line($"""<h2 id="changes">Every note change</h2>""");
        tables.Changes();
        html.Line($"""<h2 id="notes">Every note</h2>""");
        tables.Notes();
        Unknown(take, diagnosis, plan, html);
        html.Line($"""<h2 id="measures">How this was measured</h2>""");
        Measures.Write(diagnosis.Settings, html);
        html.Line($"""</main><footer><div class="care">""");
        foreach (var line in Cautions.Lines) html.Line($"<p>{line}</p>");
        html.Line($"</div></footer></body></html>");
    }

    private static void Head(HtmlText html, string title)
    {
        html.Raw("<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\n");
        html.Line($"""<meta http-equiv="Content-Security-Policy" content="{new Markup(Policy)}">""");
        html.Raw("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<link rel=\"icon\" href=\"data:,\">\n");
        html.Line($"<title>{title}</title>");
        html.Raw("<style>\n" + PageStyle.Css + "\n</style></head>\n");
    }

    private static void Summary(Take take, Diagnosis diagnosis, HtmlText html)
    {
        html.Line($"""<p class="overall">{diagnosis.Summary.Overall}</p>""");
        foreach (var problem in take.Problems) html.Line($"""<p class="problem">{problem}</p>""");
        html.Line($"""<h2 id="first">Work on first</h2>""");
        if (diagnosis.Summary.WorkOnFirst.IsEmpty)
        {
            html.Line($"<p>Nothing stands out.</p>");
            return;
        }

        html.Line($"""<ol class="first">""");
        foreach (var sentence in diagnosis.Summary.WorkOnFirst) html.Line($"<li>{sentence}</li>");
        html.Line($"</ol>");
    }

    private static void Legend(Diagnosis diagnosis, HtmlText html)
    {
        html.Line($"<p>Pale bars are the notes asked for, where they were heard; the dark line is the pitch that was played. Below it each change has its number and verdict; the shaded band is the level.</p>");
        html.Line($"""<ul class="key">""");
        foreach (var (verdict, count) in diagnosis.Summary.ChangeCounts) html.Line($"<li>{VerdictMarks.Inline(verdict)} {count}</li>");
        html.Line($"</ul>");
    }

    private static void Unknown(Take take, Diagnosis diagnosis, Plan plan, HtmlText html)
    {
        html.Line($"""<h2 id="unknown">What could not be told</h2>""");
        var lines = UnknownThings.Of(take, diagnosis, plan);
        if (lines.IsEmpty)
        {
            html.Line($"<p>Nothing was left open.</p>");
            return;
        }

        html.Line($"<ul>");
        foreach (var line in lines) html.Line($"<li>{line}</li>");
        html.Line($"</ul>");
    }
}
