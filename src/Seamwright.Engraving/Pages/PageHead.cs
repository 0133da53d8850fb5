using System.Collections.Immutable;
using System.Text;
using System.Xml.Linq;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Guidance;

namespace Seamwright.Engraving.Pages;

/// <summary>What the page furniture says.</summary>
internal sealed record SheetWords
{
    public required string Title { get; init; }

    public string Subtitle { get; init; } = "";

    public string Composer { get; init; } = "";

    public string TeacherLine { get; init; } = "";

    public string Instrument { get; init; } = "";

    public ImmutableArray<LegendEntry> Legend { get; init; } = [];

    public bool Cautions { get; init; }
}

/// <summary>Lays out the head of the first page from top to bottom; its height is known before the music is engraved.</summary>
internal sealed class PageHead
{
    private const double LegendLine = 12.5 * PageSize.Point;
    private readonly XElement drawing = Print.Group("head");
    private readonly PageSize size;
    private readonly SheetFonts fonts;
    private readonly LegendPrint legendPrint;
    private double y = PageSize.Top;
    private (double Width, double Baseline) lastLine;

    public PageHead(SheetWords words, PageSize size, SheetFonts fonts)
    {
        this.size = size;
        this.fonts = fonts;
        legendPrint = new LegendPrint(fonts, 8);
        if (words.TeacherLine.Length > 0) Line(Face.PageItalic, 9.5, words.TeacherLine, lines: 2, after: 3);
        if (words.Title.Length > 0) Title(words.Title);
        if (words.Subtitle.Length > 0) Line(Face.PageItalic, 12, words.Subtitle, lines: 2, after: 2);
        Composer(words.Composer);
        Strip(words);
    }

    /// <summary>From the top margin down.</summary>
    public double Height => y - PageSize.Top;

    public XElement Drawing => drawing;

    private void Title(string title)
    {
        var points = fonts.Width(Face.PageStrong, 22 * PageSize.Point, title) <= 2 * size.TextWidth ? 22 : 15;
        Line(Face.PageStrong, points, title, lines: 3, after: 2);
    }

    private void Line(Face face, double points, string text, int lines, double after)
    {
        var em = points * PageSize.Point;
        foreach (var line in TextWrap.Lines(text, size.TextWidth, lines, t => fonts.Width(face, em, t)))
        {
            y += 1.12 * em;
            lastLine = (fonts.Width(face, em, line), y - (0.18 * em));
            drawing.Add(Print.Text(face, em, PageSize.Side, lastLine.Baseline, line));
        }

        y += after * PageSize.Point;
    }

    /// <summary>At the right, beside the last line of title or subtitle where that leaves room.</summary>
    private void Composer(string composer)
    {
        if (composer.Length == 0) return;
        const double Em = 10.5 * PageSize.Point;
        var line = TextWrap.Lines(composer, size.TextWidth, 1, t => fonts.Width(Face.Page, Em, t))[0];
        var beside = drawing.HasElements && lastLine.Width + fonts.Width(Face.Page, Em, line) + 500 < size.TextWidth;
        var baseline = beside ? lastLine.Baseline : y + (1.1 * Em);
        drawing.Add(Print.Text(Face.Page, Em, size.Right, baseline, line, "end"));
        y = Math.Max(y, baseline + (0.3 * Em));
    }

    /// <summary>A stitched rule, the instrument under it, then the legend.</summary>
    private void Strip(SheetWords words)
    {
        y += 5 * PageSize.Point;
        drawing.Add(Stitches(PageSize.Side, size.Right, y));
        y += 3 * PageSize.Point;
        if (words.Instrument.Length > 0) Line(Face.Page, 9.5, words.Instrument, lines: 1, after: 1);
        if (!words.Legend.IsEmpty) LegendLines(words.Legend);
        y += 4 * PageSize.Point;
    }

    /// <summary>The rule of this house: a row of even stitches.</summary>
    public static XElement Stitches(double from, double to, double y)
    {
        const double Stitch = 260, Gap = 90;
        var d = new StringBuilder();
        for (var x = from; x < to; x += Stitch + Gap) d.Append($"M{Print.Number(x)} {Print.Number(y)} L{Print.Number(Math.Min(x + Stitch, to))} {Print.Number(y)} ");
        return Print.Path(d.ToString().TrimEnd(), filled: false, 16);
    }

    private void LegendLines(ImmutableArray<LegendEntry> legend)
    {
        const double Between = 330;
        var x = (double)PageSize.Side;
        y += LegendLine;
        foreach (var entry in legend)
        {
            var (width, element) = legendPrint.Draw(entry);
            if (x > PageSize.Side && x + width > size.Right)
            {
                x = PageSize.Side;
                y += LegendLine;
            }

            drawing.Add(Print.At(x, y, element));
            x += width + Between;
        }
    }
}
