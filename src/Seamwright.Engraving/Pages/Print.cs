using System.Globalization;
using System.Xml.Linq;
using Seamwright.Engraving.Fonts;

namespace Seamwright.Engraving.Pages;

/// <summary>The few SVG 1.1 elements a sheet is made of, every property written out as an attribute.</summary>
internal static class Print
{
    public static readonly XNamespace Ns = "http://www.w3.org/2000/svg";

    public static XElement Element(string name, params object?[] content) => new(Ns + name, content);

    public static XAttribute Is(string name, string value) => new(name, value);

    public static XAttribute Is(string name, double value) => new(name, Number(value));

    public static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    public static XElement Group(string kind, params object?[] content) => Element("g", Is("class", kind), content);

    public static XElement At(double x, double y, params object?[] content) =>
        Element("g", Is("transform", $"translate({Number(x)}, {Number(y)})"), content);

    /// <summary>One line of text.</summary>
    /// <param name="face">Its face.</param>
    /// <param name="size">Height of an em.</param>
    /// <param name="x">Of its anchor.</param>
    /// <param name="y">Of its baseline.</param>
    /// <param name="text">The text.</param>
    /// <param name="anchor"><c>start</c>, <c>middle</c> or <c>end</c>.</param>
    public static XElement Text(Face face, double size, double x, double y, string text, string anchor = "start") =>
        Element("text", Is("x", x), Is("y", y), anchor == "start" ? null : Is("text-anchor", anchor), FaceOf(face), Is("font-size", size), text);

    /// <summary>A piece of a line in its own face.</summary>
    public static XElement Span(Face face, double size, string text) => Element("tspan", FaceOf(face), Is("font-size", size), text);

    public static XElement Path(string d, bool filled, double stroke) =>
        Element("path", Is("d", d), Is("fill", filled ? "currentColor" : "none"), Is("stroke", stroke > 0 ? "currentColor" : "none"), Is("stroke-width", stroke), Is("stroke-linejoin", "round"));

    /// <summary>The face that attributes of <see cref="Text"/> and <see cref="Span"/> name.</summary>
    public static Face FaceFrom(string family, string weight, string style)
    {
        var page = family.StartsWith('\'');
        if (style == "italic") return page ? Face.PageItalic : Face.MusicItalic;
        if (weight is "bold" or "600") return page ? Face.PageStrong : Face.MusicBold;
        return page ? Face.Page : Face.Music;
    }

    private static object[] FaceOf(Face face) =>
    [
        Is("font-family", face >= Face.Page ? "'Source Serif 4', Georgia, serif" : "Tinos, 'Liberation Serif', 'Times New Roman', serif"),
        Is("font-weight", face switch { Face.MusicBold => "bold", Face.PageStrong => "600", _ => "normal" }),
        Is("font-style", face is Face.MusicItalic or Face.PageItalic ? "italic" : "normal"),
    ];
}
