using System.Text.RegularExpressions;
using Seamwright.Core.Instruments;
using Seamwright.Engraving;
using Seamwright.Engraving.Engines;
using UglyToad.PdfPig;

namespace Seamwright.Tests.Engraving;

/// <summary>One engraver for all sheets: it takes a second to start.</summary>
public sealed class EngraverFixture : IDisposable
{
    public IEngraver Engraver { get; } = Engravers.ForThisSystem();

    public void Dispose() => Engraver.Dispose();
}

public class SheetTests(EngraverFixture fixture) : IClassFixture<EngraverFixture>
{
    public static TheoryData<string> Parts => [.. TestParts.Texts.Keys.Order()];

    [Theory]
    [MemberData(nameof(Parts))]
    public void Every_part_becomes_a_pdf_of_the_right_size_on_both_papers(string name)
    {
        foreach (var paper in Enum.GetValues<Paper>())
        {
            using var pdf = PdfDocument.Open(Pdf(name, new SheetOptions { Paper = paper }, out var pages));
            Assert.Equal(pages, pdf.NumberOfPages);
            var (width, height) = paper == Paper.A4 ? (595.3, 841.9) : (612.0, 792.0);
            Assert.All(pdf.GetPages(), p => Assert.InRange(Math.Abs(p.Width - width) + Math.Abs(p.Height - height), 0, 1));
        }
    }

    [Fact]
    public void Title_labels_legend_cautions_and_page_number_can_be_searched()
    {
        var name = TestParts.Texts.Keys.Order().First();
        using var pdf = PdfDocument.Open(Pdf(name, new SheetOptions { Syllable = "loo", TeacherLine = "For Ida" }, out var pages));
        var text = Regex.Replace(string.Concat(pdf.GetPages().Select(p => p.Text)), @"\s+", "");
        var part = TestParts.Named(name);
        Assert.Contains(Regex.Replace(TestParts.Header(part).Title, @"\s+", ""), text);
        Assert.Contains("ForIda", text);
        Assert.Contains("slideposition", text);
        Assert.Contains("Restaslongasyouplay", text);
        Assert.Contains("doctorforpainthatstays", text);
        Assert.Contains($"{pages}/{pages}", text);
    }

    [Fact]
    public void Words_that_could_break_markup_are_printed_as_words()
    {
        var part = TestParts.Named(TestParts.Texts.Keys.Order().First());
        var header = TestParts.Header(part) with { Title = "<b>&\"it's\"</b> 🎺", Composer = "A & B" };
        var made = new SheetMaker(fixture.Engraver).Make(header, part, null, new SheetOptions { TeacherLine = "<script>" });
        Assert.True(made.Succeeded);
        using var stream = new MemoryStream();
        made.Value.WritePdf(stream);
        using var pdf = PdfDocument.Open(stream.ToArray());
        Assert.Contains("<b>&", Regex.Replace(pdf.GetPage(1).Text, @"\s+", ""));
    }

    private byte[] Pdf(string name, SheetOptions look, out int pages)
    {
        var part = TestParts.Named(name);
        var instrument = name switch { "low" => Catalogue.Find("bass-independent")!, "high" => Catalogue.Find("alto-eb-bb")!, _ => Catalogue.Default };
        var plan = TestPlans.For(part, instrument, repeatDiffers: name == "repeats");
        var made = new SheetMaker(fixture.Engraver).Make(TestParts.Header(part), part, plan, look);
        Assert.True(made.Succeeded, string.Join("; ", made.Problems));
        pages = made.Value.Pages.Length;
        using var stream = new MemoryStream();
        made.Value.WritePdf(stream);
        return stream.ToArray();
    }
}
