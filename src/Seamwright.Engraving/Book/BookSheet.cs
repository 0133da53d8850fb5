using System.Xml.Linq;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Pages;
using Seamwright.Engraving.Report;

namespace Seamwright.Engraving.Book;

/// <summary>A page of a book as SVG.</summary>
internal sealed class BookSheet(BookOptions options, PageSize size, SheetFonts fonts)
{
    private const double Small = 8;
    private readonly string title = PlainText.OneLine(options.Title);

    /// <summary>Where a page's content begins.</summary>
    public static double Top => 1600;

    /// <summary>Where it ends.</summary>
    public double Bottom => size.Height - 1650;

    /// <summary>Pieces with a foot.</summary>
    /// <param name="pieces">At their places.</param>
    /// <param name="number">Of the page, from 1.</param>
    public XElement Of(IReadOnlyList<PlacedPiece> pieces, int number)
    {
        var shapes = pieces.Select(p => p.Piece.Shapes).OfType<XElement>().SelectMany(s => s.Elements()).DistinctBy(e => e.Attribute("id")!.Value);
        return Of(pieces.Select(p => Print.At(PageSize.Side, p.Y, p.Piece.Drawing)), number, shapes);
    }

    /// <summary>Placed drawings.</summary>
    /// <param name="content">In the page's coordinates.</param>
    /// <param name="number">Of the page, from 1; null for a page without a foot.</param>
    /// <param name="shapes">They refer to.</param>
    public XElement Of(IEnumerable<XElement> content, int? number, IEnumerable<XElement>? shapes = null)
    {
        var svg = Print.Element(
            "svg",
            Print.Is("viewBox", $"0 0 {size.Width} {size.Height}"),
            Print.Is("color", "black"),
            Print.Element("defs", shapes),
            Print.Group("content", content, number is { } n ? Foot(n) : null));
        return svg;
    }

    private XElement Foot(int number)
    {
        var y = size.Height - 850.0;
        var line = title.Length == 0 ? "" : TextWrap.Lines(title, size.TextWidth * 0.8, 1, t => fonts.Width(Face.Page, Small * PageSize.Point, t))[0];
        return Print.Group(
            "foot",
            line.Length > 0 ? Lettering.Word(Face.Page, Small, PageSize.Side, y, line, Lettering.Faint) : null,
            Lettering.Word(Face.Page, 9.5, size.Right, y, $"{number}", Lettering.Ink, "end"));
    }
}
