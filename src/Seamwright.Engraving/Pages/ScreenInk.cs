using System.Xml.Linq;
using Seamwright.Engraving.Fonts;

namespace Seamwright.Engraving.Pages;

/// <summary>Takes the colours out of a drawing: on a screen they are the style sheet's affair.</summary>
internal static class ScreenInk
{
    /// <summary>A copy that is drawn in the colour around it.</summary>
    public static XElement Of(XElement drawing, SheetFonts fonts)
    {
        var copy = new XElement(drawing);
        foreach (var e in copy.DescendantsAndSelf())
        {
            e.Attribute("color")?.Remove();
            if (e.Attribute("fill") is { Value: ['#', ..] } fill) fill.Remove();
            if (e.Attribute("fill")?.Value == "black") e.SetAttributeValue("fill", "currentColor");
            if (e.Attribute("stroke")?.Value == "black") e.SetAttributeValue("stroke", "currentColor");
        }

        foreach (var text in copy.Descendants(Print.Ns + "text")) TextPiece.FixLengths(text, fonts);
        return copy;
    }
}
