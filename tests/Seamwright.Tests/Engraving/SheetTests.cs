using System.Text;
using System.Xml.Linq;
using Seamwright.Core.Instruments;
using Seamwright.Core.Units;
using Seamwright.Engraving;
using UglyToad.PdfPig;

namespace Seamwright.Tests.Engraving;

public class SheetTests
{
    [Theory]
    [InlineData(Paper.A4, 595.28, 841.89)]
    [InlineData(Paper.Letter, 612, 792)]
    public void The_pdf_has_the_size_of_its_paper(Paper paper, double width, double height)
    {
        var part = TestParts.Named("song");
        using var pdf = PdfDocument.Open(SharedEngraver.Pdf(SharedEngraver.Sheet(part, null, new() { Paper = paper })));
        Assert.Equal(width, pdf.GetPage(1).Width, 0.01);
        Assert.Equal(height, pdf.GetPage(1).Height, 0.01);
    }

    [Fact]
    public void Every_part_has_as_many_pages_in_the_pdf_as_in_the_svg()
    {
        foreach (var name in TestParts.Texts.Keys)
        {
            var sheet = SharedEngraver.Sheet(TestParts.Named(name), TestPlans.For(TestParts.Named(name)), new() { Paper = Paper.Letter });
            using var pdf = PdfDocument.Open(SharedEngraver.Pdf(sheet));
            Assert.Equal(sheet.Pages.Length, pdf.NumberOfPages);
        }
    }

    [Fact]
    public void The_pdf_names_its_title_and_author_and_no_date_unless_told()
    {
        var sheet = SharedEngraver.Sheet(TestParts.Named("song"));
        using var pdf = PdfDocument.Open(SharedEngraver.Pdf(sheet));
        Assert.Equal("Evening by the Weir", pdf.Information.Title);
        Assert.Equal("Invented for the tests", pdf.Information.Author);
        Assert.Null(pdf.Information.CreationDate);
        using var dated = new MemoryStream();
        sheet.WritePdf(dated, new DateTimeOffset(2031, 5, 4, 0, 0, 0, TimeSpan.Zero));
        using var second = PdfDocument.Open(dated.ToArray());
        Assert.Contains("20310504", second.Information.CreationDate);
    }

    [Fact]
    public void Title_positions_valves_syllables_and_cautions_can_be_searched_in_the_pdf()
    {
        var part = TestParts.Named("low");
        var sheet = SharedEngraver.Sheet(part, TestPlans.For(part, Catalogue.Find("bass-independent")), new() { Syllable = "nu", TeacherLine = "For Tuesday" });
        var text = TextOf(sheet);
        string[] expected =
        [
            "Evening by the Weir", "A study in joining", "Invented for the tests", "For Tuesday", "Bass trombone, independent F and G♭ valves", "Largo",
            "F♭3", "D4", "♭3", "beyond 3rd", "nu", "1 / 1", "Rest as long as you play.", "Engraved by Seamwright",
        ];
        Assert.All(expected, e => Assert.Contains(e, text));
    }

    [Fact]
    public void Sharps_in_positions_extract_as_real_sharps() =>
        Assert.Contains("♯2", TextOf(SharedEngraver.Sheet(TestParts.Named("tenor-clef"), TestPlans.For(TestParts.Named("tenor-clef")))));

    [Fact]
    public void Another_programs_text_extraction_reads_the_same()
    {
        if (!OutsideProgram.IsInstalled("pdftotext")) Assert.Skip("pdftotext is missing: install poppler-utils.");
        var part = TestParts.Named("repeats");
        var text = Tool.PdfToText(SharedEngraver.Pdf(SharedEngraver.Sheet(part, TestPlans.For(part, repeatDiffers: true))));
        Assert.All(new[] { "Evening by the Weir", "[F♭3]", "[F♯6]", "du", "Moderato", "D.S. al Coda", "Fine", "Coda" }, e => Assert.Contains(e, text));
    }

    [Fact]
    public void Two_hundred_bars_fill_several_numbered_pages_and_lose_no_bar()
    {
        var part = TestParts.Long(200);
        var sheet = SharedEngraver.Sheet(part, TestPlans.For(part));
        using var pdf = PdfDocument.Open(SharedEngraver.Pdf(sheet));
        Assert.Equal(sheet.Pages.Length, pdf.NumberOfPages);
        Assert.InRange(pdf.NumberOfPages, 4, 12);
        Assert.All(pdf.GetPages(), p => Assert.Contains($"{p.Number} / {pdf.NumberOfPages}", p.Text));
        var ids = IdsOf(sheet);
        Assert.Equal(part.Notes.Select(n => n.Id), ids.Where(id => id.StartsWith('n')).Where(part.Notes.Select(n => n.Id).ToHashSet().Contains));
        Assert.Equal(Enumerable.Range(0, 200).Select(i => $"bar.{i}"), ids.Where(id => id.StartsWith("bar.", StringComparison.Ordinal)));
        Assert.Equal([pdf.NumberOfPages], pdf.GetPages().Where(p => p.Text.Contains("Rest as long")).Select(p => p.Number));
    }

    [Fact]
    public void Every_page_of_svg_is_well_formed_and_points_only_at_shapes_it_has()
    {
        var sheet = SharedEngraver.Sheet(TestParts.Long(60), TestPlans.For(TestParts.Long(60)));
        foreach (var page in sheet.Pages.Select(p => XDocument.Parse(p)))
        {
            var ids = page.Descendants().Attributes("id").Select(a => a.Value).ToList();
            Assert.Equal(ids.Count, ids.Distinct().Count());
            Assert.All(page.Descendants().Attributes("href"), h => Assert.Contains(h.Value[1..], ids));
            Assert.Equal("210mm", page.Root!.Attribute("width")!.Value);
        }
    }

    [Fact]
    public void Every_text_in_the_svg_says_how_long_it_is_for_viewers_without_the_fonts()
    {
        var page = XDocument.Parse(SharedEngraver.Sheet(TestParts.Named("repeats"), TestPlans.For(TestParts.Named("repeats"))).Pages[0]);
        var texts = page.Descendants().Where(e => e.Name.LocalName is "text" or "tspan" && !e.HasElements && e.Value.Trim().Length > 0).ToList();
        Assert.True(texts.Count > 30);
        Assert.All(texts, t => Assert.NotNull(t.Attribute("textLength")));
    }

    [Fact]
    public void Notes_positions_and_marks_carry_ids_made_of_the_notes_own()
    {
        var part = PartBuilder.Parse("", "D4:4( C4:4 G3:4 F3:4) |");
        var ids = IdsOf(SharedEngraver.Sheet(part, TestPlans.For(part)));
        Assert.Contains("n1-2", ids);
        Assert.Contains("pos.n1-2", ids);
        Assert.Contains("mark.n1-2", ids);
        Assert.Contains("syl.n1-2", ids);
    }

    [Fact]
    public void Text_from_outside_cannot_break_the_sheet()
    {
        var part = PartBuilder.Parse("", "words=<b>&\"' tempo=<&>@60 reh=<A> dyn=<mf> C3:1 |");
        const string Hostile = "<script>&amp;\"'\u0000\u0007\uD800 ]]>\n\ttwo";
        var header = TestParts.Header(part, Hostile, Hostile, Hostile);
        var sheet = SharedEngraver.Sheet(part, TestPlans.For(part), new() { TeacherLine = Hostile, InstrumentName = Hostile, Syllable = Hostile }, header);
        Assert.Equal("<script>&amp;\"' ]]> two", sheet.Title);
        Assert.DoesNotContain(XDocument.Parse(sheet.Pages[0]).Descendants(), e => e.Name.LocalName is "script" or "b");
        Assert.Contains("<script>&amp;\"' ]]> two", TextOf(sheet));
    }

    [Fact]
    public void A_sign_that_no_font_has_is_reported_and_left_out()
    {
        var part = PartBuilder.Parse("", "C3:1 |");
        var made = new SheetMaker(SharedEngraver.Instance).Make(TestParts.Header(part, "Rain 🪗 song 雨"), part);
        var problem = Assert.Single(made.Value.Problems);
        Assert.Contains("🪗 雨", problem.What);
        Assert.Equal(made.Problems, made.Value.Problems);
        Assert.Contains("Rain", TextOf(made.Value));
        Assert.Contains("雨", made.Value.Pages[0]);
    }

    [Fact]
    public void Long_header_lines_stay_within_the_margins()
    {
        var part = PartBuilder.Parse("", "C3:1 |");
        var longText = string.Join(' ', Enumerable.Repeat("Incomparably slow procession of the lamplighters", 12));
        var header = TestParts.Header(part, longText, longText, longText);
        using var pdf = PdfDocument.Open(SharedEngraver.Pdf(SharedEngraver.Sheet(part, null, new() { TeacherLine = new string('W', 400), InstrumentName = longText }, header)));
        var page = pdf.GetPage(1);
        Assert.All(page.Letters, l => Assert.InRange(l.BoundingBox.Right, 0, page.Width - 42));
        Assert.Contains("…", page.Text);
    }

    [Theory]
    [InlineData(Clef.Bass)]
    [InlineData(Clef.Tenor)]
    [InlineData(Clef.Alto)]
    [InlineData(Clef.Treble)]
    [InlineData(Clef.TrebleBb)]
    [InlineData(Clef.BassOctaveDown)]
    [InlineData(Clef.TrebleOctaveDown)]
    public void The_whole_range_from_e1_to_f5_fits_on_a_page_in_every_clef(Clef clef)
    {
        var text = string.Join(" | ", Enumerable.Range(28, 50).Select(m => $"{Pitch.FromMidi(m)}:2 {Pitch.FromMidi(105 - m)}:2"));
        var part = PartBuilder.Parse("", text);
        var sheet = SharedEngraver.Sheet(part, TestPlans.For(part), new() { Clef = clef });
        Assert.All(CollisionTests.Overlaps(sheet), o => Assert.Fail(o));
    }

    [Fact]
    public void One_note_one_rest_or_no_plan_make_a_sheet()
    {
        foreach (var text in new[] { "C3:1 |", "R |", "r:4 |", "C3:4g |" })
        {
            var part = PartBuilder.Parse("", text);
            Assert.Single(SharedEngraver.Sheet(part, TestPlans.For(part)).Pages);
            Assert.Single(SharedEngraver.Sheet(part).Pages);
        }
    }

    [Fact]
    public void A_part_without_bars_is_a_problem_and_no_sheet()
    {
        var part = PartBuilder.Parse("", "C3:1 |");
        var made = new SheetMaker(SharedEngraver.Instance).Make(TestParts.Header(part), part with { Bars = [] });
        Assert.False(made.Succeeded);
        Assert.Contains("no bar", made.Problems[0].What);
    }

    [Fact]
    public void The_same_part_gives_the_same_pages()
    {
        var part = TestParts.Named("busy");
        Assert.Equal(SharedEngraver.Sheet(part).Pages, SharedEngraver.Sheet(part).Pages);
    }

    [Fact]
    public void Legend_and_cautions_can_be_left_out()
    {
        var part = PartBuilder.Parse("", "C3:4 D3:4 |");
        var text = TextOf(SharedEngraver.Sheet(part, TestPlans.For(part), new() { ShowLegend = false, ShowCautions = false }));
        Assert.DoesNotContain("slide position", text);
        Assert.DoesNotContain("Rest as long", text);
    }

    private static List<string> IdsOf(EngravedSheet sheet) =>
        [.. sheet.Pages.SelectMany(p => XDocument.Parse(p).Descendants().Attributes("id")).Select(a => a.Value)];

    private static string TextOf(EngravedSheet sheet)
    {
        using var pdf = PdfDocument.Open(SharedEngraver.Pdf(sheet));
        var text = new StringBuilder();
        foreach (var page in pdf.GetPages()) text.AppendLine(page.Text);
        return text.ToString();
    }
}
