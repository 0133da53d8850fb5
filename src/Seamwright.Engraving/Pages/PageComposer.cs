using System.Collections.Immutable;
using System.Xml.Linq;
using Seamwright.Engraving.Fonts;

namespace Seamwright.Engraving.Pages;

/// <summary>Joins engraved music and page furniture into finished pages.</summary>
internal sealed class PageComposer(SheetWords words, PageSize size, PageHead head, GuidancePrint guidance, SheetFonts fonts)
{
    /// <summary>One finished SVG document for each engraved page.</summary>
    public ImmutableArray<XDocument> Compose(ImmutableArray<string> engraved) =>
        [.. engraved.Select((page, i) => Page(XElement.Parse(page), i + 1, engraved.Length))];

    private XDocument Page(XElement engraved, int number, int count)
    {
        var (definitions, music) = MusicCleaner.Clean(engraved);
        guidance.Fill(music);
        foreach (var old in music.Elements(Print.Ns + "g").Where(g => g.Attribute("class")?.Value == "pgHead").ToList()) old.Remove();
        return new XDocument(Print.Element(
            "svg",
            Print.Is("viewBox", $"0 0 {size.Width} {size.Height}"),
            Print.Is("width", $"{Print.Number(size.Width / 100.0)}mm"),
            Print.Is("height", $"{Print.Number(size.Height / 100.0)}mm"),
            Print.Is("color", "black"),
            Print.Element("title", words.Title),
            definitions,
            Print.Element("rect", Print.Is("class", "paper"), Print.Is("x", 0), Print.Is("y", 0), Print.Is("width", size.Width), Print.Is("height", size.Height), Print.Is("fill", "white"), Print.Is("stroke", "none")),
            music,
            Print.Element("g", Print.Is("fill", "currentColor"), number == 1 ? head.Drawing : PageFoot.RunningHead(words, size, fonts), PageFoot.Foot(words, size, number, count))));
    }
}
