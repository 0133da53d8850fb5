using System.Xml.Linq;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Pages;
using Seamwright.Engraving.Report;

namespace Seamwright.Engraving.Book;

/// <summary>Draws the cover: the teacher's line, the title, for whom, the picture, what is inside.</summary>
internal sealed class BookCover(BookOptions options, PageSize size, SheetFonts fonts)
{
    private readonly Lettering letters = new(fonts);

    private double Width => size.TextWidth;

    /// <summary>The whole page.</summary>
    /// <param name="inside">A line on what the book holds.</param>
    public IEnumerable<XElement> Drawings(string inside)
    {
        var header = letters.Paragraph(Face.PageItalic, 12, Width, options.Header, Lettering.Ink, most: 3);
        if (options.Header.Length > 0) yield return Print.At(PageSize.Side, 1800, header.Drawing);
        var y = 0.23 * size.Height;
        yield return PageHead.Stitches(PageSize.Side, size.Right, y);
        y += 500;
        foreach (var block in Words())
        {
            yield return Print.At(PageSize.Side, y, block.Drawing);
            y += block.Height + 220;
        }

        yield return PageHead.Stitches(PageSize.Side, size.Right, y + 250);
        var foot = size.Height - 2600.0;
        if (options.Image is { } image) yield return Picture(image, y + 900, foot - 700);
        var last = letters.Paragraph(Face.Page, 10, Width, inside, Lettering.Ink, most: 3);
        yield return Print.At(PageSize.Side, foot, last.Drawing);
        yield return Lettering.Word(Face.Page, 8, PageSize.Side, size.Height - 850, "Engraved by Seamwright", Lettering.Faint);
    }

    private IEnumerable<Block> Words()
    {
        var title = PlainText.OneLine(options.Title);
        if (title.Length > 0) yield return letters.Paragraph(Face.PageStrong, letters.Width(Face.PageStrong, 32, title) <= 2 * Width ? 32 : 22, Width, title, Lettering.Ink, most: 4);
        if (options.For.Length > 0) yield return letters.Paragraph(Face.PageItalic, 16, Width, $"for {options.For}", Lettering.Ink, most: 3);
        if (options.Instrument.Length > 0) yield return letters.Paragraph(Face.Page, 12, Width, options.Instrument, Lettering.Ink, most: 2);
        if (options.Date.Length > 0) yield return letters.Paragraph(Face.Page, 12, Width, options.Date, Lettering.Ink, most: 1);
    }

    // As large as the room allows, and no larger than 150 dots an inch make it.
    private XElement Picture(BookImage image, double top, double bottom)
    {
        var room = Math.Min(bottom - top, 0.5 * size.Height);
        var scale = new[] { Width / image.Width, room / image.Height, 2540 / 150.0 }.Min();
        var (width, height) = (image.Width * scale, image.Height * scale);
        return Print.Element(
            "image",
            Print.Is("x", PageSize.Side),
            Print.Is("y", top + ((bottom - top - height) / 2)),
            Print.Is("width", width),
            Print.Is("height", height),
            Print.Is("href", $"data:;base64,{Convert.ToBase64String(image.Bytes.AsSpan())}"));
    }
}
