using System.Collections.Immutable;
using System.Xml.Linq;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Layout;

namespace Seamwright.Engraving.Pages;

/// <summary>Joins dressed systems and page furniture into finished pages.</summary>
internal sealed class PageComposer(SheetWords words, PageSize size, PageHead head, SheetFonts fonts)
{
    /// <summary>One finished SVG document for each page.</summary>
    /// <param name="engraved">As the engraver gave it, on paper as long as it liked.</param>
    /// <param name="dresser">Dresses each system.</param>
    /// <param name="ink">Learns the music font's shapes before anything is dressed.</param>
    public ImmutableArray<XDocument> Compose(ImmutableArray<string> engraved, SystemDresser dresser, InkReader ink)
    {
        var definitions = Print.Element("defs");
        var systems = new List<DressedSystem>();
        foreach (var page in engraved)
        {
            var (shapes, music) = MusicCleaner.Clean(XElement.Parse(page));
            ink.Learn(shapes);
            definitions.Add(shapes.Elements());
            systems.AddRange(music.Elements(Print.Ns + "g").Where(g => g.Attribute("class")?.Value == "system").Select(dresser.Dress));
        }

        var pages = new Pagination(size, head.Height).Pages(systems);
        return [.. pages.Select((p, i) => Page(p, definitions, i + 1, pages.Count))];
    }

    private XDocument Page(IReadOnlyList<PlacedSystem> systems, XElement definitions, int number, int count)
    {
        var music = Print.Group("music", systems.Select(s => Print.At(PageSize.Side, s.Dy, s.System.Drawing)));
        return new XDocument(Print.Element(
            "svg",
            Print.Is("viewBox", $"0 0 {size.Width} {size.Height}"),
            Print.Is("width", $"{Print.Number(size.Width / 100.0)}mm"),
            Print.Is("height", $"{Print.Number(size.Height / 100.0)}mm"),
            Print.Is("color", "black"),
            Print.Element("title", words.Title),
            Used(definitions, music),
            Print.Element("rect", Print.Is("class", "paper"), Print.Is("x", 0), Print.Is("y", 0), Print.Is("width", size.Width), Print.Is("height", size.Height), Print.Is("fill", "white"), Print.Is("stroke", "none")),
            music,
            Print.Element("g", Print.Is("fill", "currentColor"), number == 1 ? head.Drawing : PageFoot.RunningHead(words, size, fonts), PageFoot.Foot(words, size, number, count))));
    }

    /// <summary>The shapes one page refers to.</summary>
    private static XElement Used(XElement definitions, XElement music)
    {
        var wanted = music.Descendants(Print.Ns + "use").Attributes("href").Select(a => a.Value).ToHashSet();
        return Print.Element("defs", definitions.Elements().Where(d => wanted.Contains("#" + d.Attribute("id")?.Value)).DistinctBy(d => d.Attribute("id")!.Value));
    }
}
