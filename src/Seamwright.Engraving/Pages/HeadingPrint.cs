using System.Xml.Linq;
using Seamwright.Core.Scores;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Notation;

namespace Seamwright.Engraving.Pages;

/// <summary>Draws a heading: that of a section, or framed rehearsal mark, tempo words, metronome mark.</summary>
/// <param name="fonts">For words.</param>
/// <param name="width">Widest line of a section's heading; a longer one takes a second line.</param>
internal sealed class HeadingPrint(SheetFonts fonts, double width)
{
    public const double Size = 400;

    private const double SectionSize = 370, LineHeight = 1.25;

    private const double Space = 150;

    /// <summary>The heading with its baseline on the origin.</summary>
    public XElement Draw(Heading heading)
    {
        var group = Print.Group("heading-parts");
        if (heading.Section.Length > 0) group.Add(Section(heading.Section));
        var x = 0.0;
        if (heading.Segno) x += Segno(group, x) + (2 * Space);
        if (heading.Coda) x += Coda(group, x) + (2 * Space);
        if (heading.Rehearsal.Length > 0) x += Framed(group, heading.Rehearsal) + (2 * Space);
        if (heading.Words.Length > 0)
        {
            group.Add(Print.Text(Face.MusicBold, Size, x, 0, heading.Words));
            x += fonts.Width(Face.MusicBold, Size, heading.Words) + (2 * Space);
        }

        if (heading.Unit is { } unit)
        {
            x += Note(group, x, unit);
            group.Add(Print.Text(Face.Music, Size, x, 0, $"= {heading.PerMinute}"));
        }

        return group;
    }

    private XElement Section(string words)
    {
        var lines = TextWrap.Lines(words, width, 2, t => fonts.Width(Face.PageStrong, SectionSize, t));
        return Print.Group("section-heading", [.. lines.Select((l, i) => Print.Text(Face.PageStrong, SectionSize, 0, (i + 1 - lines.Count) * LineHeight * SectionSize, l))]);
    }

    /// <summary>The sign: a crossed S between two dots.</summary>
    private static double Segno(XElement group, double x)
    {
        var sign = Print.At(
            x + 170,
            -150,
            Print.Path("M95 -120 C60 -210 -110 -200 -100 -100 C-90 0 100 -20 110 95 C118 200 -70 215 -100 118", filled: false, 52),
            Print.Path("M150 -215 L-150 215", filled: false, 26),
            Dot(-125, 10, 32),
            Dot(125, -10, 32));
        group.Add(sign);
        return 340;
    }

    private static double Coda(XElement group, double x)
    {
        var ring = Print.Element("ellipse", Print.Is("cx", 0), Print.Is("cy", 0), Print.Is("rx", 115), Print.Is("ry", 150), Print.Is("fill", "none"), Print.Is("stroke", "currentColor"), Print.Is("stroke-width", 40));
        group.Add(Print.At(x + 180, -150, ring, Print.Path("M-185 0 L185 0", filled: false, 24), Print.Path("M0 -220 L0 220", filled: false, 24)));
        return 370;
    }

    private static XElement Dot(double x, double y, double radius) =>
        Print.Element("ellipse", Print.Is("cx", x), Print.Is("cy", y), Print.Is("rx", radius), Print.Is("ry", radius), Print.Is("fill", "currentColor"), Print.Is("stroke", "none"));

    private double Framed(XElement group, string text)
    {
        var width = fonts.Width(Face.MusicBold, Size, text) + 160;
        group.Add(Print.Element("rect", Print.Is("x", 0), Print.Is("y", -330), Print.Is("width", width), Print.Is("height", 400), Print.Is("fill", "none"), Print.Is("stroke", "currentColor"), Print.Is("stroke-width", 22)));
        group.Add(Print.Text(Face.MusicBold, Size, width / 2, 0, text, "middle"));
        return width;
    }

    /// <summary>A small note: drawn, because no text font has them all.</summary>
    private static double Note(XElement group, double x, NoteValue unit)
    {
        var open = unit.Base <= 1;
        var head = Print.Element("ellipse", Print.Is("cx", 0), Print.Is("cy", 0), Print.Is("rx", open ? 78 : 88), Print.Is("ry", open ? 50 : 60), Print.Is("fill", open ? "none" : "currentColor"), Print.Is("stroke", "currentColor"), Print.Is("stroke-width", open ? 28 : 0));
        group.Add(Print.Element("g", Print.Is("transform", $"translate({Print.Number(x + 95)}, -62) rotate(-22)"), head));
        if (unit.Base >= 1) group.Add(Print.Path($"M{Print.Number(x + 174)} -85 L{Print.Number(x + 174)} -400", filled: false, 22));
        for (var flag = 0; flag < unit.Base - 2; flag++)
        {
            var y = -400 + (80 * flag);
            group.Add(Print.Path($"M{Print.Number(x + 174)} {y} C{Print.Number(x + 184)} {y + 80} {Print.Number(x + 290)} {y + 100} {Print.Number(x + 252)} {y + 210} C{Print.Number(x + 262)} {y + 150} {Print.Number(x + 220)} {y + 120} {Print.Number(x + 174)} {y + 105} Z", filled: true, 0));
        }

        for (var dot = 0; dot < unit.Dots; dot++)
            group.Add(Dot(x + 270 + (80 * dot), -62, 24));
        return 300 + (80 * unit.Dots) + (unit.Base > 2 ? 40 : 0);
    }
}
