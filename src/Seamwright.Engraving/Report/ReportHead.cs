using System.Xml.Linq;
using Seamwright.Core.Diagnosis.Page;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Report;

/// <summary>The head of the first page and the running head of the others: title, pupil, instrument, take.</summary>
internal sealed class ReportHead
{
    private readonly PageSize size;
    private readonly SheetFonts fonts;
    private readonly string title;
    private readonly string under;

    public ReportHead(ReportText report, PageSize size, SheetFonts fonts)
    {
        (this.size, this.fonts) = (size, fonts);
        title = PlainText.OneLine(report.Heading.Title);
        var pupil = PlainText.OneLine(report.Heading.Pupil);
        under = Joined(pupil.Length > 0 ? $"For {pupil}" : "", PlainText.OneLine(report.Instrument), PlainText.OneLine(report.Heading.Take));
        (Drawing, Bottom) = First();
    }

    public XElement Drawing { get; }

    /// <summary>Where what follows begins.</summary>
    public double Bottom { get; }

    /// <summary>One line, for every page but the first.</summary>
    public XElement Running()
    {
        var line = Fitting(Face.Page, 9, Joined(title, under));
        return Print.Group("head", Lettering.Word(Face.Page, 9, PageSize.Side, 1150, line, Lettering.Faint));
    }

    private (XElement Drawing, double Bottom) First()
    {
        var letters = new Lettering(fonts);
        var y = (double)PageSize.Top - 300;
        var group = Print.Group("head");
        foreach (var block in new[]
        {
            letters.Paragraph(Face.PageStrong, letters.Width(Face.PageStrong, 20, title) > 2 * size.TextWidth ? 14 : 20, size.TextWidth, title, Lettering.Ink, most: 3),
            letters.Paragraph(Face.Page, 10, size.TextWidth, under, Lettering.Faint, most: 2),
        })
        {
            group.Add(Print.At(PageSize.Side, y, block.Drawing));
            y += block.Height;
        }

        return (group, y + 250);
    }

    private string Fitting(Face face, double points, string text) => text.Length == 0 ? "" : TextWrap.Lines(text, size.TextWidth, 1, t => fonts.Width(face, points * PageSize.Point, t))[0];

    private static string Joined(params string[] parts) => string.Join("  ·  ", parts.Where(p => p.Length > 0));
}
