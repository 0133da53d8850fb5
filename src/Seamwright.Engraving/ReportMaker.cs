using System.Collections.Immutable;
using System.Xml.Linq;
using Seamwright.Core;
using Seamwright.Core.Diagnosis.Page;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Engraving.Engines;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Pages;
using Seamwright.Engraving.Pdf;
using Seamwright.Engraving.Report;

namespace Seamwright.Engraving;

/// <summary>Prints reports, and engraves the line of music for those on a screen.</summary>
/// <param name="engraver">Kept by the caller, for as many reports as wanted.</param>
/// <param name="files">Where the fonts lie; null for those beside the program.</param>
public sealed class ReportMaker(IEngraver engraver, EngraverFiles? files = null)
{
    private SheetFonts Fonts => SheetFonts.From((files ?? EngraverFiles.Default).Fonts);

    /// <summary>The line of music for an HTML report.</summary>
    /// <param name="part">At concert pitch.</param>
    /// <param name="plan">Made from this part.</param>
    /// <param name="report">About a take of this plan.</param>
    /// <returns>Null for a part without bars.</returns>
    /// <exception cref="EngravingException">The engraver or a font is missing on this computer, or the engraver gave up.</exception>
    public PageMusic? Music(Part part, Plan plan, ReportText report) =>
        part.Bars.IsDefaultOrEmpty ? null : new MarkedLine(engraver, Fonts).ForPage(part, plan, report);

    /// <summary>The whole report on paper.</summary>
    /// <param name="part">At concert pitch, with at least one bar.</param>
    /// <param name="plan">Made from this part.</param>
    /// <param name="report">About a take of this plan.</param>
    /// <param name="paper">What it is printed on.</param>
    /// <exception cref="EngravingException">The engraver or a font is missing on this computer, or the engraver gave up.</exception>
    public PrintedReport Print(Part part, Plan plan, ReportText report, Paper paper = Paper.A4)
    {
        var (fonts, size) = (Fonts, PageSize.Of(paper));
        var music = new MarkedLine(engraver, fonts).Engrave(part, plan, report, ReportPages.MusicWidth(size));
        return new PrintedReport(new ReportPages(report, size, fonts).Compose(music), report, size, fonts);
    }
}

/// <summary>A finished report: the same pages as SVG and as PDF.</summary>
public sealed class PrintedReport
{
    private readonly ImmutableArray<XDocument> documents;
    private readonly ReportText report;
    private readonly PageSize size;
    private readonly SheetFonts fonts;

    internal PrintedReport(ImmutableArray<XDocument> documents, ReportText report, PageSize size, SheetFonts fonts)
    {
        (this.documents, this.report, this.size, this.fonts) = (documents, report, size, fonts);
        Pages = [.. documents.Select(d => d.ToString(SaveOptions.DisableFormatting))];
        Problems = [.. MissingSigns.In(
            fonts,
            "The PDF leaves it out; a report that ends in .html keeps it.",
            ("name", PlainText.OneLine(report.Heading.Pupil)), ("title", PlainText.OneLine(report.Heading.Title)), ("recording", PlainText.OneLine(report.Heading.Take)), ("instrument", PlainText.OneLine(report.Instrument)))];
    }

    /// <summary>One complete SVG document a page, in units of a hundredth of a millimetre; text stays text.</summary>
    public ImmutableArray<string> Pages { get; }

    /// <summary>What could not be printed as asked.</summary>
    public ImmutableArray<Problem> Problems { get; }

    /// <summary>Writes all pages as one PDF with embedded, subset fonts and searchable text; the same report gives the same bytes.</summary>
    /// <param name="output">Written to and left open.</param>
    public void WritePdf(Stream output) =>
        PdfBook.Write(output, documents, size, fonts, new BookWords(PlainText.OneLine(report.Heading.Title), "", "What was heard in a take, and what to work on"), created: null);
}
