using System.Collections.Immutable;
using System.Net;
using System.Text;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Exercises;
using Seamwright.Engraving;

namespace Seamwright.Pack;

/// <summary>The page that opens a pack in a browser: each exercise with its words, its sound and its files. Nothing comes from elsewhere.</summary>
internal static class PackPage
{
    private const string Style = """
        :root { color-scheme: light dark; --paper: #fbf8f1; --ink: #221d16; --faint: #665f54; --rule: #b8ad99; }
        @media (prefers-color-scheme: dark) { :root { --paper: #1d1b18; --ink: #efe9dc; --faint: #a9a294; --rule: #5c5548; } }
        * { box-sizing: border-box; }
        body { margin: 0; background: var(--paper); color: var(--ink); font: 17px/1.5 Georgia, "Times New Roman", serif; }
        main { max-width: 46rem; margin: 0 auto; padding: 2rem 1.25rem 3rem; }
        h1 { font-size: 1.9rem; font-weight: 600; margin: 0; overflow-wrap: anywhere; }
        h2 { font-size: 1.25rem; margin: 2.6rem 0 0; }
        article { border-top: 2px dashed var(--rule); margin-top: 2rem; padding-top: .8rem; break-inside: avoid; }
        h3 { font-size: 1.1rem; margin: 0; } p { margin: .35rem 0; } ol { margin: .35rem 0; padding-left: 1.5rem; }
        .faint { color: var(--faint); font-size: .92rem; } .purpose { font-style: italic; }
        audio { display: block; width: 100%; margin: .6rem 0 .3rem; } a { color: inherit; }
        footer { border-top: 2px dashed var(--rule); margin-top: 2.5rem; padding-top: .8rem; font-size: .92rem; }
        """;

    /// <summary>The whole page.</summary>
    /// <param name="entries">What is told.</param>
    /// <param name="look">What the cover says.</param>
    /// <param name="printed">For page numbers.</param>
    /// <param name="music">Names of the MusicXML files in the pack.</param>
    /// <param name="sound">Names of the sound files in the pack.</param>
    public static string Html(ImmutableArray<BookEntry> entries, BookOptions look, PrintedBook printed, IReadOnlyList<string> music, IReadOnlyList<string> sound)
    {
        var html = new StringBuilder();
        Line("<!DOCTYPE html>");
        Line("<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">");
        Line($"<title>{Text(look.Title)}</title><style>\n{Style}\n</style></head><body><main>");
        if (look.Header.Length > 0) Line($"<p class=\"purpose\">{Text(look.Header)}</p>");
        Line($"<h1>{Text(look.Title)}</h1>");
        Line($"<p class=\"faint\">{Text(string.Join(" · ", new[] { look.For.Length > 0 ? $"for {look.For}" : "", look.Instrument, look.Date }.Where(t => t.Length > 0)))}</p>");
        Line($"<p><a href=\"book.pdf\">The book as PDF, {(printed.Pages == 1 ? "one page" : $"{printed.Pages} pages")}</a></p>");
        for (var i = 0; i < entries.Length; i++)
        {
            if (entries[i].Chapter.Length > 0) Line($"<h2>{Text(entries[i].Chapter)}</h2>");
            Article(i, entries[i].Exercise, printed.PagesOf[i][0]);
        }

        Line("<footer>");
        foreach (var line in Cautions.Lines.Take(2)) Line($"<p>{Text(line)}</p>");
        Line("</footer></main></body></html>");
        return html.ToString();

        void Article(int i, Exercise exercise, int page)
        {
            Line($"<article id=\"e{i + 1}\"><h3>{i + 1}. {Text(exercise.Title)}</h3>");
            Line($"<p class=\"faint\">{Text($"Level {exercise.Level} · {exercise.RangeWords} · about {exercise.Minutes:0} min · quarter = {string.Join(", ", exercise.Tempos.Select(t => $"{t:0.#}"))}")}</p>");
            Line($"<p class=\"purpose\">{Text(exercise.Purpose)}</p>");
            foreach (var line in new[] { exercise.Reason, exercise.Demand }.Where(l => l.Length > 0)) Line($"<p>{Text(line)}</p>");
            Line($"<ol>{string.Concat(exercise.Practice.Select(p => $"<li>{Text(p)}</li>"))}</ol>");
            Line($"<audio controls preload=\"none\" src=\"{sound[i]}\" aria-label=\"{Text($"Play-along: {exercise.Title}")}\"></audio>");
            Line($"<p class=\"faint\"><a href=\"book.pdf#page={page}\">Page {page}</a> · <a href=\"{music[i]}\">MusicXML</a> · {Text(exercise.Rest)}</p></article>");
        }

        void Line(string text) => html.Append(text).Append('\n');
    }

    private static string Text(string text) => WebUtility.HtmlEncode(text);
}
