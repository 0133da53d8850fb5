using System.Text.RegularExpressions;
using System.Xml.Linq;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Diagnosis.Page;
using Seamwright.Engraving;
using Seamwright.Tests.Diagnoses;
using UglyToad.PdfPig;

namespace Seamwright.Tests.Engraving;

/// <summary>The report on paper, and the line of music it shares with the page.</summary>
public partial class PrintedReportTests
{
    private static readonly Lazy<PlayedMelody> Ferry = new(() => PlayedMelody.Of("evening-ferry"));
    private static readonly Lazy<PrintedReport> Printed = new(() => Print());

    [Fact]
    public void Ninety_four_notes_with_eight_changes_to_mend_fit_on_six_pages()
    {
        Assert.Equal(94, Ferry.Value.Plan.Notes.Length);
        Assert.InRange(Ferry.Value.Report.Troubles.Length, 6, 12);
        using var pdf = PdfDocument.Open(Bytes(Printed.Value));
        Assert.Equal(Printed.Value.Pages.Length, pdf.NumberOfPages);
        Assert.InRange(pdf.NumberOfPages, 2, 6);
        Assert.All(pdf.GetPages(), p => Assert.Contains($"{p.Number} / {pdf.NumberOfPages}", p.Text));
        Assert.All(pdf.GetPages(), p => Assert.Contains("Evening Ferry", p.Text));
        Assert.All(pdf.GetPages(), p => Assert.Contains("take 7.wav", p.Text));
    }

    [Fact]
    public void The_same_report_gives_the_same_bytes()
    {
        var first = Bytes(Print());
        Assert.Equal(first, Bytes(Print()));
        Assert.NotEqual(first, Bytes(Print(pupil: "Somebody")));
    }

    [Fact]
    public void Another_programs_text_extraction_reads_the_three_sentences_the_pupil_and_the_cautions()
    {
        if (!OutsideProgram.IsInstalled("pdftotext")) Assert.Skip("reason: pdftotext is missing (install poppler-utils)");
        string[] sentences = ["First leave the air alone, however far the slide must go, and however slowly it goes there at first.", "Then wait for the arm.", "Last, sing the third bar."];
        var text = White().Replace(Tool.PdfToText(Bytes(Print(pupil: "Åse", work: sentences)), layout: false), " ");
        Assert.All(sentences, s => Assert.Contains(s, text));
        Assert.All(Cautions.Lines, s => Assert.Contains(s, text));
        string[] expected = ["For Åse", "The line, with its changes marked", "What could not be told", "How levels and times were measured", "no sound pressure (dB SPL) is known", "90 %", "bar 7, beat 1½"];
        Assert.All(expected, e => Assert.Contains(e, text, StringComparison.OrdinalIgnoreCase));
    }

    [Theory]
    [InlineData(Paper.A4, 595.28, 841.89)]
    [InlineData(Paper.Letter, 612, 792)]
    public void Words_stay_within_the_margins_of_their_paper(Paper paper, double width, double height)
    {
        using var pdf = PdfDocument.Open(Bytes(Print(paper, new string('W', 300))));
        foreach (var page in pdf.GetPages())
        {
            Assert.Equal(width, page.Width, 0.01);
            Assert.Equal(height, page.Height, 0.01);
            Assert.All(page.Letters.Where(l => l.Value.Trim().Length > 0), l => Assert.True(l.BoundingBox.Left > 36 && l.BoundingBox.Right < width - 36 && l.BoundingBox.Bottom > 20 && l.BoundingBox.Top < height - 20, $"'{l.Value}' on page {page.Number} at {l.BoundingBox.Left:0}, {l.BoundingBox.Bottom:0}"));
        }
    }

    [Theory]
    [InlineData("")]
    [InlineData(" (the twelfth time, slower)")]
    public void No_words_of_a_page_lie_on_others(string repeat)
    {
        using var pdf = PdfDocument.Open(Bytes(Print(repeat: repeat)));
        foreach (var page in pdf.GetPages())
        {
            var letters = page.Letters.Where(l => l.Value.Trim().Length > 0 && l.BoundingBox.Width > 0).ToList();
            for (var i = 0; i < letters.Count; i++)
            {
                var a = letters[i].BoundingBox;
                // The next letter drawn is a neighbour, kerned or joined.
                var hit = letters.Skip(i + 2).FirstOrDefault(l => l.BoundingBox is var b && a.Left < b.Right - 0.8 && b.Left < a.Right - 0.8 && a.Bottom < b.Top - 0.8 && b.Bottom < a.Top - 0.8);
                Assert.True(hit is null, $"page {page.Number}: '{letters[i].Value}' and '{hit?.Value}' at {a.Left:0}, {a.Bottom:0}");
            }
        }
    }

    [Fact]
    public void Every_change_to_mend_has_its_shape_and_its_word_under_its_note()
    {
        var (report, plan) = (Ferry.Value.Report, Ferry.Value.Plan);
        var groups = Printed.Value.Pages.SelectMany(p => XDocument.Parse(p).Descendants()).Where(e => e.Attribute("id")?.Value.StartsWith(PlaceId.Heard, StringComparison.Ordinal) == true).ToList();
        foreach (var trouble in report.Troubles)
        {
            var note = plan.Notes[plan.Changes[trouble.Change].ToNote].Note;
            var worst = trouble.Findings[0].Verdict;
            var word = $"{trouble.Number} {VerdictMarks.Of(worst).Short}";
            var mark = Assert.Single(groups, g => g.Attribute("id")!.Value.EndsWith("." + note.NoteIds[0], StringComparison.Ordinal) && g.Value == (note.Pass > 1 ? $"[{word}]" : word));
            Assert.Contains(mark.Descendants().Attributes("d"), d => d.Value == VerdictMarks.Of(worst).Outline);
        }

        Assert.Contains(groups, g => g.Value.Length == 0 && g.Descendants().Attributes("d").Any(d => d.Value == VerdictMarks.Of(Verdict.Clean).Outline));
    }

    [Fact]
    public void The_page_gets_the_same_music_twice_without_ids_and_with_every_shape_it_refers_to()
    {
        var music = new ReportMaker(SharedEngraver.Instance).Music(Ferry.Value.Part, Ferry.Value.Plan, Ferry.Value.Report)!;
        Assert.True(music.Narrow.Length > music.Wide.Length);
        var shapes = music.Definitions.Elements().Attributes("id").Select(a => "#" + a.Value).ToList();
        Assert.Equal(shapes.Count, shapes.Distinct().Count());
        foreach (var systems in new[] { music.Wide, music.Narrow })
        {
            Assert.All(systems.SelectMany(s => s.Svg.Descendants().Attributes("href")), h => Assert.Contains(h.Value, shapes));
            Assert.Empty(systems.SelectMany(s => s.Svg.DescendantsAndSelf().Attributes("id")));
            Assert.All(Ferry.Value.Report.Troubles, t => Assert.Contains(systems, s => Regex.IsMatch(s.Title, $@"\b{t.Number} ")));
        }
    }

    [Fact]
    public void A_clean_take_and_one_of_everything_are_printed_too()
    {
        foreach (var invented in new[] { InventedTake.Clean(), InventedTake.WithEverythingMeasured() })
        {
            var part = PartBuilder.Parse("", "C3:1 |");
            var report = ReportText.Of(invented.Take, invented.Diagnosis, invented.Plan, new("雨 <&>\u0007 walk", "", "\uD800"));
            using var pdf = PdfDocument.Open(Bytes(new ReportMaker(SharedEngraver.Instance).Print(part, invented.Plan, report)));
            Assert.InRange(pdf.NumberOfPages, 1, 9);
        }
    }

    [Fact]
    public void A_fraction_and_a_per_cent_sign_are_printed_whole()
    {
        // Source Serif 4 composes them twice over; subsets lose the parts of parts.
        Assert.All(new[] { "½", "¾", "⅓", "%", "”" }, s => Assert.DoesNotContain("SourceSerif", SharedEngraver.Fonts.Runs(Seamwright.Engraving.Fonts.Face.Page, s)[0].Typeface.Name));
        Assert.All(new[] { "a", "é", "“" }, s => Assert.StartsWith("SourceSerif", SharedEngraver.Fonts.Runs(Seamwright.Engraving.Fonts.Face.Page, s)[0].Typeface.Name));
    }

    private static byte[] Bytes(PrintedReport report)
    {
        using var stream = new MemoryStream();
        report.WritePdf(stream);
        return stream.ToArray();
    }

    [GeneratedRegex(@"\s+")]
    private static partial Regex White();

    private static PrintedReport Print(Paper paper = Paper.A4, string pupil = "", string[]? work = null, string repeat = "")
    {
        var played = Ferry.Value;
        var report = played.Report with { Heading = played.Report.Heading with { Pupil = pupil }, WorkOnFirst = work is null ? played.Report.WorkOnFirst : [.. work], Rows = [.. played.Report.Rows.Select(r => r with { Place = r.Place + repeat })] };
        return new ReportMaker(SharedEngraver.Instance).Print(played.Part, played.Plan, report, paper);
    }
}
