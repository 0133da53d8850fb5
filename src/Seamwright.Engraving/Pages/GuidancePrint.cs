using System.Collections.Immutable;
using System.Globalization;
using System.Xml.Linq;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Guidance;
using Seamwright.Engraving.Notation;

namespace Seamwright.Engraving.Pages;

/// <summary>Puts positions, marks and headings where the engraver held their places.</summary>
internal sealed class GuidancePrint(ImmutableDictionary<string, NoteGuide> guides, IReadOnlyDictionary<string, Heading> headings, SheetFonts fonts)
{
    /// <summary>Height of an em of the positions.</summary>
    public const double PositionSize = 390;

    private readonly HeadingPrint headingPrint = new(fonts);

    /// <summary>Replaces every held place in a cleaned page.</summary>
    public void Fill(XElement music)
    {
        foreach (var group in music.Descendants(Print.Ns + "g").Where(g => g.Attribute("id")?.Value.Contains('.', StringComparison.Ordinal) == true).ToList())
        {
            if (group.Element(Print.Ns + "text") is not { } text || Drawing(group.Attribute("id")!.Value) is not { } drawing) continue;
            group.ReplaceNodes(Print.At(Value(text, "x"), Value(text, "y"), drawing));
        }
    }

    private static double Value(XElement text, string name) => double.Parse(text.Attribute(name)!.Value, CultureInfo.InvariantCulture);

    private static XElement Positions(NoteGuide guide)
    {
        var text = Print.Element("text", Print.Is("x", 0), Print.Is("y", 0), Print.Is("text-anchor", "middle"));
        text.Add(PositionSpans(guide.Position!));
        if (guide.LaterPositions.IsEmpty) return text;
        text.Add(Print.Span(Face.Music, PositionSize, " ["));
        for (var i = 0; i < guide.LaterPositions.Length; i++)
        {
            if (i > 0) text.Add(Print.Span(Face.Music, PositionSize, " "));
            text.Add(PositionSpans(guide.LaterPositions[i]));
        }

        text.Add(Print.Span(Face.Music, PositionSize, "]"));
        return text;
    }

    private static IEnumerable<XElement> PositionSpans(PositionPrint position)
    {
        if (position.Valves.Length > 0) yield return Print.Span(Face.Music, PositionSize, position.Valves);
        yield return Print.Span(Face.MusicBold, PositionSize, position.Place);
    }

    private XElement? Drawing(string id)
    {
        if (id.StartsWith(PlaceId.Heading, StringComparison.Ordinal)) return headings.TryGetValue(id, out var heading) ? headingPrint.Draw(heading) : null;
        if (id.StartsWith(PlaceId.Position, StringComparison.Ordinal)) return guides.TryGetValue(id[PlaceId.Position.Length..], out var above) ? Positions(above) : null;
        if (!id.StartsWith(PlaceId.Mark, StringComparison.Ordinal)) return null;

        // Centred on the height of a small letter, which is what held the place.
        return guides.TryGetValue(id[PlaceId.Mark.Length..], out var below) ? Print.At(0, -95, MarkShapes.Row(below.Marks)) : null;
    }
}
