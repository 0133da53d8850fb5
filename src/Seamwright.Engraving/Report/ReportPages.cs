using System.Collections.Immutable;
using System.Xml.Linq;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Diagnosis.Page;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Layout;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Report;

/// <summary>Sets a report on paper.</summary>
internal sealed class ReportPages(ReportText report, PageSize size, SheetFonts fonts)
{
    private const double Body = 9.5, Small = 7.5;
    private const double MusicScale = 0.78;
    private readonly Lettering letters = new(fonts);

    /// <summary>Width a system of music must be engraved in.</summary>
    public static int MusicWidth(PageSize size) => (int)(size.TextWidth / MusicScale);

    /// <summary>One finished SVG document for each page.</summary>
    public ImmutableArray<XDocument> Compose(EngravedSystems music)
    {
        var head = new ReportHead(report, size, fonts);
        var flow = new Flow(PageSize.Side, page => page == 0 ? head.Bottom : PageSize.Top - 50, size.Height - 1500);
        flow.Add([.. Work(), .. Music(music), .. Troubles(), .. Section("Notes", report.Notes), .. Section("Attempts", report.Attempts), .. Section("Sound that belongs to no note", report.Unmatched), .. Unknown(), .. Table(), .. Measures(), .. Care()]);
        var pages = flow.Pages;
        return [.. pages.Select((p, i) => Page(p, music, head, i + 1, pages.Length))];
    }

    private double Width => size.TextWidth;

    private IEnumerable<Block> Work()
    {
        yield return letters.Paragraph(Face.Page, Body, Width, report.Overall, Lettering.Ink);
        foreach (var problem in report.Problems) yield return letters.Paragraph(Face.PageItalic, Body, Width, problem, Lettering.Ink) with { Before = 80 };
        foreach (var asked in Section("What the exercise asked", report.Aims)) yield return asked;
        yield return Heading("Work on first");
        if (report.WorkOnFirst.IsEmpty) yield return letters.Paragraph(Face.Page, 11, Width, report.NothingFirst, Lettering.Ink);
        for (var i = 0; i < report.WorkOnFirst.Length; i++)
            yield return letters.Paragraph(Face.Page, 11, Width, report.WorkOnFirst[i], Lettering.Ink, $"{i + 1}.") with { Before = i == 0 ? 0 : 110 };
    }

    private IEnumerable<Block> Music(EngravedSystems music)
    {
        if (music.Systems.IsEmpty) yield break;
        yield return Heading("The line, with its changes marked");
        yield return letters.Verdicts(report.Counts.Select(c => (c.Verdict, $"{VerdictMarks.Of(c.Verdict).Short}: {VerdictMarks.Meaning(c.Verdict)} ({VerdictMarks.Counted(c.Verdict, c.Count)})")), 8, Width, 320) with { KeepsWithNext = true };
        yield return letters.Paragraph(Face.PageItalic, Small, Width, $"Above the notes: slide positions. Below: what was heard where a note was reached, with the number of its picture; in brackets: on the repeat. {report.CountsSay}", Lettering.Faint) with { KeepsWithNext = true };
        foreach (var system in music.Systems)
        {
            var drawing = Print.Element("g", Print.Is("transform", $"scale({Print.Number(MusicScale)}, {Print.Number(MusicScale)})"), Print.At(0, -system.Top, system.Drawing));
            yield return new Block(drawing, system.Height * MusicScale) { Before = 330 };
        }
    }

    private IEnumerable<Block> Troubles()
    {
        yield return Heading("Changes to mend");
        if (report.Troubles.IsEmpty)
        {
            yield return letters.Paragraph(Face.Page, Body, Width, report.NothingToMend, Lettering.Ink);
            yield break;
        }

        yield return letters.Paragraph(Face.PageItalic, Small, Width, report.Legend, Lettering.Faint) with { KeepsWithNext = true };
        var cards = new TroubleCards(letters, Width);
        foreach (var trouble in report.Troubles) yield return cards.Card(trouble) with { Before = 330 };
    }

    private IEnumerable<Block> Table()
    {
        yield return Heading("Every note, and the change that led to it");
        yield return letters.Paragraph(Face.PageItalic, Small, Width, "In played order. A figure is followed by its 90 % interval; a number in brackets is that of the picture. Tongue: against the arm, + is late. Slide: how far it must go to be in tune.", Lettering.Faint) with { KeepsWithNext = true };
        foreach (var row in new ReportTable(report, letters, Width).Rows()) yield return row;
    }

    private IEnumerable<Block> Unknown() => Section("What could not be told", report.Unknown.IsEmpty ? [report.NothingOpen] : report.Unknown);

    private IEnumerable<Block> Measures()
    {
        yield return Heading("How levels and times were measured");
        foreach (var paragraph in report.Measures) yield return letters.Paragraph(Face.Page, 8, Width, paragraph, Lettering.Ink) with { Before = 60 };
        foreach (var (verdict, rule) in report.Limits) yield return letters.Paragraph(Face.Page, 8, Width, $"{verdict}: {rule}.", Lettering.Ink, "–") with { Before = 25 };
    }

    private IEnumerable<Block> Care()
    {
        var first = true;
        foreach (var line in Cautions.Lines)
        {
            yield return letters.Paragraph(Face.PageItalic, 8.5, Width, line, Lettering.Ink) with { Before = first ? 350 : 25, KeepsWithNext = line != Cautions.Lines[^1] };
            first = false;
        }
    }

    private IEnumerable<Block> Section(string heading, IReadOnlyCollection<string> lines)
    {
        if (lines.Count == 0) yield break;
        yield return Heading(heading);
        foreach (var line in lines) yield return letters.Paragraph(Face.Page, Body - 1, Width, line, Lettering.Ink, "–") with { Before = 30 };
    }

    /// <summary>A heading under a row of stitches.</summary>
    private Block Heading(string text)
    {
        const double Points = 11.5, Em = Points * PageSize.Point;
        var stitches = PageHead.Stitches(0, Width, 0);
        stitches.SetAttributeValue("stroke", ReportInks.Printed.Rule);
        return new(Print.Group("heading", stitches, Lettering.Word(Face.PageItalic, Points, 0, 1.25 * Em, text, Lettering.Ink)), 1.8 * Em) { Before = 420, KeepsWithNext = true };
    }

    private XDocument Page(ImmutableArray<XElement> blocks, EngravedSystems music, ReportHead head, int number, int count)
    {
        var content = Print.Group("content", number == 1 ? head.Drawing : head.Running(), blocks, Foot(number, count));
        var svg = Print.Element(
            "svg",
            Print.Is("viewBox", $"0 0 {size.Width} {size.Height}"),
            Print.Is("width", $"{Print.Number(size.Width / 100.0)}mm"),
            Print.Is("height", $"{Print.Number(size.Height / 100.0)}mm"),
            Print.Is("color", "black"),
            Print.Element("title", PlainText.OneLine(report.Heading.Title)),
            music.Used(content),
            Print.Element("rect", Print.Is("class", "paper"), Print.Is("x", 0), Print.Is("y", 0), Print.Is("width", size.Width), Print.Is("height", size.Height), Print.Is("fill", "white"), Print.Is("stroke", "none")),
            content);
        foreach (var text in svg.Descendants(Print.Ns + "text")) TextPiece.FixLengths(text, fonts);
        return new XDocument(svg);
    }

    private XElement Foot(int page, int pages) => Print.Group(
        "foot",
        Lettering.Word(Face.Page, Small, PageSize.Side, size.Height - 850, "Heard by Seamwright. Levels are relative: no sound pressure (dB SPL) is known.", Lettering.Faint),
        Lettering.Word(Face.Page, 9, size.Right, size.Height - 850, $"{page} / {pages}", Lettering.Ink, "end"));
}
