using Seamwright.Core.Listening;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis.Page;

/// <summary>The tables of all changes and all notes.</summary>
internal sealed class Tables(Take take, Diagnosis diagnosis, Plan plan, HtmlText html)
{
    // Narrow pages show rows as small blocks; roles keep them tables for those who listen to the page.
    private const string Open = """<table role="table">""", Head = """<thead role="rowgroup"><tr role="row">""", Body = """</tr></thead><tbody role="rowgroup">""";

    public void Changes()
    {
        html.Raw(Open);
        html.Line($"<caption>In played order. Glide: 10 to 90 % of the pitch's way. Tongue: middle of the dip against the middle of the glide, + is late.</caption>");
        html.Raw(Head);
        Titles(["no.", "bar, beat", "notes", "asked for"], ["glide", "dip", "dip width", "tongue", "silence"], ["what was heard"]);
        html.Raw(Body);
        foreach (var change in plan.Changes) Change(change, take.Changes[change.Index], diagnosis.Changes[change.Index]);
        html.Line($"</tbody></table>");
    }

    public void Notes()
    {
        html.Raw(Open);
        html.Line($"<caption>In played order. Slide: how far the slide must go from where it was to be in tune.</caption>");
        html.Raw(Head);
        Titles(["no.", "bar, beat", "note", "position"], ["begins", "lasts", "cents", "level"], ["slide", "what was heard"]);
        html.Raw(Body);
        foreach (var note in take.Notes) Note(note, diagnosis.Notes[note.Index], plan.Notes[note.Index]);
        html.Line($"</tbody></table>");
    }

    private void Titles(string[] words, string[] figures, string[] say)
    {
        foreach (var w in words) html.Write($"""<th role="columnheader" scope="col">{w}</th>""");
        foreach (var w in figures) html.Write($"""<th role="columnheader" scope="col" class="figure">{w}</th>""");
        foreach (var w in say) html.Write($"""<th role="columnheader" scope="col">{w}</th>""");
    }

    private void Change(NoteChange change, HeardChange heard, ChangeJudgement judgement)
    {
        PlannedNote from = plan.Notes[change.FromNote], to = plan.Notes[change.ToNote];
        html.Write($"""<tr role="row"><td role="cell">{change.Index}</td>""");
        Cell("bar", $"{to.Note.Bar}, {TakeParts.BeatWords(to.Note.Beat)}{TakeParts.PassWords(to.Note.Pass)}");
        Cell("", $"{Name(from)} – {Name(to)}");
        Cell("", judgement.Kind.Words());
        Figure("glide", heard.Glide?.Milliseconds, "0", "ms");
        Figure("dip", heard.Dip?.Value, "0.0", "dB");
        Figure("dip width", heard.DipWidth?.Milliseconds, "0", "ms");
        Figure("tongue", heard.TongueOffset?.Milliseconds, "+0;−0;0", "ms");
        Figure("silence", heard.Gap?.Milliseconds, "0", "ms");
        Say(judgement.Findings, judgement.Advice);
        html.Line($"</tr>");
    }

    private void Note(HeardNote heard, NoteJudgement judgement, PlannedNote planned)
    {
        html.Write($"""<tr role="row"><td role="cell">{heard.Index}</td>""");
        Cell("bar", $"{planned.Note.Bar}, {TakeParts.BeatWords(planned.Note.Beat)}{TakeParts.PassWords(planned.Note.Pass)}");
        Cell("", heard.Pitch.ToDisplay());
        Cell("position", planned.Setting?.Label ?? "–");
        Figure("begins", heard.Onset?.Value, "0.00", "s");
        Figure("lasts", heard.Offset is { } off && heard.Onset is { } on ? (off - on).Value : null, "0.00", "s");
        Figure("", heard.Cents?.Value, "+0;−0;0", "cents");
        Figure("level", RelativeLevel(heard), "+0.0;−0.0;0.0", "dB");
        Cell("slide", SlideWords(judgement.SlideCorrection?.Millimetres));
        Say(judgement.Findings, judgement.Advice);
        html.Line($"</tr>");
    }

    private double? RelativeLevel(HeardNote note)
    {
        var loudest = take.Notes.Max(n => n.Level?.Value);
        return note.Level?.Value - loudest;
    }

    private static string SlideWords(double? mm) => mm is { } v && Math.Abs(v) >= 0.5 ? $"{Math.Abs(v):0} mm further {(v > 0 ? "out" : "in")}" : "";

    private static string Name(PlannedNote note) =>
        note.Setting is { } s ? $"{note.Note.Pitch.ToDisplay()} ({s.Label})" : note.Note.Pitch.ToDisplay();

    private void Cell(string of, string text)
    {
        if (of.Length == 0 || text.Length == 0) html.Write($"""<td role="cell" class="short">{text}</td>""");
        else html.Write($"""<td role="cell" class="short" data-of="{of}">{text}</td>""");
    }

    private void Figure(string of, double? value, string format, string unit)
    {
        if (value is { } v) html.Write($"""<td role="cell" class="figure" data-of="{of}">{v.ToString(format)} {unit}</td>""");
        else html.Write($"""<td role="cell" class="figure none">–</td>""");
    }

    private void Say(IEnumerable<Finding> findings, string advice)
    {
        html.Write($"""<td role="cell" class="say">""");
        foreach (var finding in findings) html.Write($"{VerdictMarks.Inline(finding.Verdict)} ");
        html.Write($"{advice}");
        foreach (var finding in findings.Where(f => f.Verdict != Verdict.Clean && f.Basis.Length > 0)) html.Write($"""<span class="basis">{finding.Basis}</span>""");
        html.Write($"</td>");
    }
}
