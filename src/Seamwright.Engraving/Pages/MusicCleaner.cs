using System.Globalization;
using System.Xml.Linq;
using Seamwright.Engraving.Fonts;

namespace Seamwright.Engraving.Pages;

/// <summary>Makes the engraver's page plain: styles become attributes, nested text becomes lines, references become local.</summary>
internal static class MusicCleaner
{
    private static readonly XName OldHref = XNamespace.Get("http://www.w3.org/1999/xlink") + "href";

    /// <summary>Cleans a page in place.</summary>
    /// <param name="page">As the engraver gave it.</param>
    /// <returns>Its glyph definitions, and its music placed from the page's top left corner.</returns>
    public static (XElement Definitions, XElement Music) Clean(XElement page)
    {
        var definitions = page.Element(Print.Ns + "defs") ?? Print.Element("defs");
        var music = page.Elements(Print.Ns + "svg").Elements(Print.Ns + "g").First();
        definitions.Remove();
        music.Remove();
        foreach (var use in music.Descendants(Print.Ns + "use").ToList()) Localise(use);
        foreach (var text in music.Descendants(Print.Ns + "text").ToList()) text.ReplaceWith(Lines(text));
        foreach (var shape in music.Descendants().Where(e => e.Name.LocalName is "path" or "polygon" or "polyline" or "rect" or "ellipse").ToList()) Ink(shape);
        foreach (var glyph in definitions.Descendants(Print.Ns + "path")) glyph.SetAttributeValue("stroke", "none");
        music.SetAttributeValue("class", "music");
        return (definitions, music);
    }

    private static void Localise(XElement use)
    {
        if (use.Attribute(OldHref) is not { } href) return;
        use.SetAttributeValue("href", href.Value);
        href.Remove();
    }

    private static void Ink(XElement shape)
    {
        if (shape.Attribute("fill") is null) shape.SetAttributeValue("fill", "currentColor");
        if (shape.Attribute("stroke") is null) shape.SetAttributeValue("stroke", "currentColor");
    }

    /// <summary>Leaves of a nested text, joined into one element for each place.</summary>
    private static List<XElement> Lines(XElement text)
    {
        var lines = new List<XElement>();
        (string X, string Y)? place = null;
        foreach (var leaf in text.DescendantNodes().OfType<XText>().Where(t => t.Value.Trim(' ', '\n', '\r').Length > 0))
        {
            var here = (Nearest(leaf, "x") ?? "0", Nearest(leaf, "y") ?? "0");
            if (place != here)
            {
                place = here;
                lines.Add(Print.Element("text", Print.Is("x", here.Item1), Print.Is("y", here.Item2), Nearest(leaf, "text-anchor") is { } anchor and not "start" ? Print.Is("text-anchor", anchor) : null));
            }

            lines[^1].Add(Print.Span(FaceOf(leaf), SizeOf(leaf), leaf.Value));
        }

        return lines;
    }

    private static double SizeOf(XText leaf) =>
        double.Parse((Nearest(leaf, "font-size") ?? "405").Replace("px", "", StringComparison.Ordinal), CultureInfo.InvariantCulture);

    private static Face FaceOf(XText leaf)
    {
        var classes = leaf.Ancestors().Attributes("class").SelectMany(a => a.Value.Split(' ')).ToHashSet();
        var weight = Nearest(leaf, "font-weight") ?? (classes.Overlaps(["ending", "fing", "reh", "tempo"]) ? "bold" : "normal");
        var style = Nearest(leaf, "font-style") ?? (classes.Overlaps(["dir", "dynam", "mNum", "syl"]) ? "italic" : "normal");
        return style == "italic" ? Face.MusicItalic : weight == "bold" ? Face.MusicBold : Face.Music;
    }

    private static string? Nearest(XText leaf, string attribute) =>
        leaf.Ancestors().TakeWhile(a => a.Name.LocalName is "tspan" or "text").Attributes(attribute)
            .FirstOrDefault(a => a.Value is not "0px")?.Value;
}
