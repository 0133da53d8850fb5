namespace Seamwright.Core.Diagnosis.Page;

/// <summary>The parts of the page between its head and its foot.</summary>
internal sealed class ReportParts(ReportText report, HtmlText html)
{
    // Narrow pages show rows as small blocks; roles keep them tables for those who listen to the page.
    private const string Open = """<table role="table">""", Head = """<thead role="rowgroup"><tr role="row">""", Body = """</tr></thead><tbody role="rowgroup">""";

    public void Work()
    {
        html.Line($"""<p class="overall">{report.Overall}</p>""");
        foreach (var problem in report.Problems) html.Line($"""<p class="problem">{problem}</p>""");
        Section("asked", "What the exercise asked", report.Aims, null);
        html.Line($"""<h2 id="first">Work on first</h2>""");
        if (report.WorkOnFirst.IsEmpty) html.Line($"<p>{report.NothingFirst}</p>");
        else List("ol", "first", report.WorkOnFirst);
    }

    public void Music(PageMusic? music)
    {
        if (music is null) return;
        html.Line($"""<h2 id="line">The line, with its changes marked</h2>""");
        Key();
        html.Line($"""<svg class="shapes" width="0" height="0" aria-hidden="true">{Svg.Inline(music.Definitions)}</svg>""");
        Systems("wide", music.Wide);
        Systems("narrow", music.Narrow);
    }

    public void Troubles()
    {
        html.Line($"""<h2 id="changes">Changes to mend</h2>""");
        if (report.Troubles.IsEmpty)
        {
            html.Line($"<p>{report.NothingToMend}</p>");
            return;
        }

        html.Line($"""<p class="fine">{report.Legend}</p>""");
        html.Line($"""<div class="troubles">""");
        foreach (var trouble in report.Troubles) Picture(trouble);
        html.Line($"</div>");
    }

    public void Lists()
    {
        Section("notes", "Notes", report.Notes, null);
        Section("attempts", "Attempts", report.Attempts, null);
        Section("unmatched", "Sound that belongs to no note", report.Unmatched, null);
    }

    public void Unknown() => Section("unknown", "What could not be told", report.Unknown, report.NothingOpen);

    public void Table()
    {
        html.Line($"""<h2 id="table">Every note, and the change that led to it</h2>""");
        html.Raw(Open);
        html.Line($"<caption>In played order. A figure is followed by its 90 % interval. Tongue: against the arm, + is late. Slide: how far it must go to be in tune.</caption>");
        html.Raw(Head);
        foreach (var name in (string[])["bar, beat", "note", "asked for", "heard"]) html.Write($"""<th role="columnheader" scope="col">{name}</th>""");
        foreach (var column in ReportRow.Columns) html.Write($"""<th role="columnheader" scope="col" class="figure">{column.Name}, {column.Unit}</th>""");
        html.Raw(Body);
        foreach (var row in report.Rows) Row(row);
        html.Line($"</tbody></table>");
    }

    public void Measures()
    {
        html.Line($"""<h2 id="measures">How levels and times were measured</h2>""");
        foreach (var paragraph in report.Measures) html.Line($"<p>{paragraph}</p>");
        html.Line($"<dl>");
        foreach (var (verdict, rule) in report.Limits) html.Line($"<dt>{verdict}</dt><dd>{rule}</dd>");
        html.Line($"</dl>");
    }

    private void Key()
    {
        html.Line($"""<ul class="key">""");
        foreach (var (verdict, count) in report.Counts)
            html.Line($"<li>{VerdictMarks.Inline(verdict, VerdictMarks.Of(verdict).Short)} {VerdictMarks.Meaning(verdict)}, {VerdictMarks.Counted(verdict, count)}</li>");
        html.Line($"</ul>");
        html.Line($"""<p class="fine">Above the notes: slide positions. Below: what was heard where a note was reached, with the number of its picture; in brackets: on the repeat. {report.CountsSay}</p>""");
    }

    private void Systems(string look, IEnumerable<MusicSystem> systems)
    {
        html.Line($"""<div class="music {look}">""");
        foreach (var system in systems) html.Line($"{Svg.Inline(Titled(system))}");
        html.Line($"</div>");
    }

    private static System.Xml.Linq.XElement Titled(MusicSystem system)
    {
        var svg = new System.Xml.Linq.XElement(system.Svg);
        svg.SetAttributeValue("role", "img");
        svg.SetAttributeValue("aria-label", system.Title);
        svg.AddFirst(new System.Xml.Linq.XElement(Svg.Ns + "title", system.Title));
        return svg;
    }

    private void Picture(Trouble trouble)
    {
        html.Line($"""<article class="trouble" id="picture-{trouble.Number}"><h3>{trouble.Number}. {Capital(trouble.Place)}</h3>""");
        html.Line($"""<p class="pair">{trouble.Notes}, {trouble.Asked}</p>""");
        html.Write($"""<p class="heard">""");
        foreach (var verdict in trouble.Verdicts) html.Write($"{VerdictMarks.Inline(verdict)} ");
        html.Line($"</p><p>{trouble.Advice}</p>");
        html.Line($"{Svg.Inline(trouble.Picture)}");
        html.Write($"""<ul class="figures">""");
        foreach (var (name, figure) in trouble.Figures) html.Write($"<li><i>{name}</i> {figure}</li>");
        html.Line($"</ul>");
        foreach (var finding in trouble.Reasons) html.Line($"""<p class="basis">{Capital(Trouble.Label(finding))}: {finding.Basis}.</p>""");
        foreach (var remark in trouble.Remarks) html.Line($"""<p class="basis">{remark}</p>""");
        html.Line($"</article>");
    }

    private void Row(ReportRow row)
    {
        html.Write($"""<tr role="row"><td role="cell" class="short" data-of="bar">{row.Place}</td><td role="cell" class="short">{row.Name}</td>""");
        html.Write($"""<td role="cell" class="short">{row.Asked}</td><td role="cell" class="say">""");
        foreach (var verdict in row.Verdicts) html.Write($"{VerdictMarks.Inline(verdict)} ");
        if (row.Picture is { } n) html.Write($"""<a href="#picture-{n}">picture {n}</a>""");
        html.Write($"</td>");
        for (var i = 0; i < row.Cells.Length; i++)
        {
            var column = ReportRow.Columns[i];
            if (row.Cells[i].Length == 0) html.Write($"""<td role="cell" class="figure none">–</td>""");
            else html.Write($"""<td role="cell" class="figure" data-of="{column.Name}" data-unit="{column.Unit}">{row.Cells[i]}</td>""");
        }

        html.Line($"</tr>");
    }

    private void Section(string id, string heading, IReadOnlyCollection<string> lines, string? whenEmpty)
    {
        if (lines.Count == 0 && whenEmpty is null) return;
        html.Line($"""<h2 id="{id}">{heading}</h2>""");
        if (lines.Count == 0) html.Line($"<p>{whenEmpty}</p>");
        else List("ul", "plain", lines);
    }

    private void List(string tag, string look, IEnumerable<string> lines)
    {
        html.Line($"""<{tag} class="{look}">""");
        foreach (var line in lines) html.Line($"<li>{line}</li>");
        html.Line($"</{tag}>");
    }

    private static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];
}
