using System.Collections.Immutable;
using System.Xml.Linq;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Layout;

namespace Seamwright.Engraving.Pages;

/// <summary>Joins dressed systems and page furniture into finished pages.</summary>
internal sealed class PageComposer(SheetWords words, PageSize size, PageHead head, SheetFonts fonts)
{
    /// <summary>One finished SVG document for each page, and where on it every system stands.</summary>
    public (ImmutableArray<XDocument> Pages, ImmutableArray<SystemPlaces> Places) Compose(EngravedSystems music)
    {
        var pages = new Pagination(size, head.Height).Pages(music.Systems);
        var places = pages.SelectMany((p, i) => p.Select(s => s.System.Places.Moved(PageSize.Side, s.Dy) with { Page = i }));
        return ([.. pages.Select((p, i) => Page(p, music, i + 1, pages.Count))], [.. places]);
    }

    private XDocument Page(IReadOnlyList<PlacedSystem> systems, EngravedSystems engraved, int number, int count)
    {
        var music = Print.Group("music", systems.Select(s => Print.At(PageSize.Side, s.Dy, s.System.Drawing)));
        var svg = Print.Element(
            "svg",
            Print.Is("viewBox", $"0 0 {size.Width} {size.Height}"),
            Print.Is("width", $"{Print.Number(size.Width / 100.0)}mm"),
            Print.Is("height", $"{Print.Number(size.Height / 100.0)}mm"),
            Print.Is("color", "black"),
            Print.Element("title", words.Title),
            engraved.Used(music),
            Print.Element("rect", Print.Is("class", "paper"), Print.Is("x", 0), Print.Is("y", 0), Print.Is("width", size.Width), Print.Is("height", size.Height), Print.Is("fill", "white"), Print.Is("stroke", "none")),
            music,
            Print.Element("g", Print.Is("fill", "currentColor"), number == 1 ? head.Drawing : PageFoot.RunningHead(words, size, fonts), PageFoot.Foot(words, size, number, count)));
        foreach (var text in svg.Descendants(Print.Ns + "text")) TextPiece.FixLengths(text, fonts);
        return new XDocument(svg);
    }
}
