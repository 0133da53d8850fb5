using System.Globalization;
using System.Xml.Linq;
using Seamwright.Engraving.Fonts;

namespace Seamwright.Engraving.Pages;

/// <summary>A stretch of one text line in one face.</summary>
internal readonly record struct TextPiece(Face Face, double Size, string Text)
{
    /// <summary>The pieces of a text element of ours, in order.</summary>
    public static IReadOnlyList<TextPiece> Of(XElement text) => [.. text.Nodes().Select(PieceOf).Where(p => p.Text.Length > 0)];

    public static double Width(IReadOnlyList<TextPiece> pieces, SheetFonts fonts) => pieces.Sum(p => fonts.Width(p.Face, p.Size, p.Text));

    /// <summary>Where a text element of a known width begins.</summary>
    public static double Left(XElement text, double width) => Number(text, "x") - (Value(text, "text-anchor") switch
    {
        "middle" => width / 2,
        "end" => width,
        _ => 0,
    });

    private static TextPiece PieceOf(XNode node)
    {
        var e = node as XElement ?? node.Parent!;
        var face = Print.FaceFrom(Value(e, "font-family"), Value(e, "font-weight"), Value(e, "font-style"));
        return new(face, Number(e, "font-size"), node is XText t ? t.Value : e.Value);
    }

    private static string Value(XElement e, string name) => e.Attribute(name)?.Value ?? "";

    private static double Number(XElement e, string name) =>
        double.TryParse(Value(e, name), CultureInfo.InvariantCulture, out var value) ? value : 0;
}
