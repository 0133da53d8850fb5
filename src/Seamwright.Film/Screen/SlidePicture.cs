using System.Collections.Immutable;
using System.Globalization;
using System.Xml.Linq;
using Seamwright.Core.Instruments;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Pages;
using Seamwright.Engraving.Pictures;

namespace Seamwright.Film.Screen;

/// <summary>The slide from the side: inner tubes that stay, the outer slide that moves, a scale of positions under the hand, and
/// each valve as a casing whose piston is up or down, as on the sheet's mark.</summary>
internal sealed class SlidePicture
{
    // Within the slide's area: the tubes' middles, the foot of the scale, and the hand's plate with the setting's name.
    private const int UpperTube = 92, LowerTube = 140, ScaleTop = 164, NumberBase = 214, PlateTop = 8, PlateHeight = 54;
    private const double PlateSize = 44;
    private const int ValveLeft = 30, ValveStep = 74, ValveTop = 62, Right = 1320, Overlap = 6;
    private readonly Picture still, outer;
    private readonly Dictionary<SlideSetting, Picture> plates;
    private readonly ImmutableArray<string> valves;
    private readonly Picture pistonUp, pistonDown;
    private readonly double dotsPerCm;
    private readonly int closed;

    /// <param name="instrument">Gives reach, positions and valves.</param>
    /// <param name="settings">All that will be shown.</param>
    /// <param name="pen">Draws.</param>
    public SlidePicture(Instrument instrument, IEnumerable<SlideSetting> settings, Draughtsman pen)
    {
        valves = [.. instrument.Sides.SelectMany(s => s.Valves).Distinct()];
        closed = 150 + (valves.Length * ValveStep);
        dotsPerCm = (Right - closed - 20) / ((2 * instrument.FurthestTravel.Value) + Overlap);
        var length = (int)(dotsPerCm * (instrument.FurthestTravel.Value + Overlap));
        (pistonUp, pistonDown) = (Piston(pen, down: false), Piston(pen, down: true));
        (still, outer) = (Still(instrument, length, pen), Outer(length, pen));
        plates = settings.Distinct().ToDictionary(s => s, s => Plate(s, pen));
    }

    /// <summary>Dots from the area's left edge to the hand.</summary>
    public int HandAt(double travel) => closed + (int)Math.Round(travel * dotsPerCm);

    /// <summary>What never moves.</summary>
    public void DrawStill(Canvas canvas, Area area) => canvas.Lay(still, area.Left, area.Top);

    /// <summary>The outer slide, the hand's plate and the pistons.</summary>
    /// <returns>All that was drawn on.</returns>
    public Area DrawMoving(Canvas canvas, Area area, double travel, SlideSetting setting)
    {
        var hand = HandAt(travel);
        var drawn = canvas.Lay(outer, area.Left + hand - 26, area.Top);
        var plate = plates[setting];
        drawn = drawn.With(canvas.Lay(plate, area.Left + hand - (plate.Width / 2), area.Top + PlateTop));
        for (var i = 0; i < valves.Length; i++)
        {
            var piston = setting.Valves.Contains(valves[i]) ? pistonDown : pistonUp;
            drawn = drawn.With(canvas.Lay(piston, area.Left + ValveLeft + (i * ValveStep), area.Top + ValveTop));
        }

        return drawn;
    }

    private Picture Still(Instrument instrument, int length, Draughtsman pen)
    {
        var shapes = new List<XElement>();
        var end = closed + length - 40;
        foreach (var y in (int[])[UpperTube, LowerTube]) shapes.AddRange(Tube(closed - 62, end, y, 5, "#faf7f0", "#665f54"));

        // The crosspiece of the inner slide, where the other hand holds the instrument, and its two sockets.
        shapes.Add(Bar(closed - 66, UpperTube - 10, closed - 50, LowerTube + 10, "#26221c"));
        for (var position = 1; position <= 7 && instrument.TravelAt(position).Value <= instrument.FurthestTravel.Value + 0.5; position++)
        {
            var x = HandAt(instrument.TravelAt(position).Value);
            shapes.Add(Bar(x - 2, ScaleTop, x + 2, ScaleTop + 14, "#665f54"));
            shapes.Add(Text(Face.MusicBold, 40, x, NumberBase, position.ToString(CultureInfo.InvariantCulture)));
        }

        for (var i = 0; i < valves.Length; i++)
        {
            var side = instrument.Sides.FirstOrDefault(s => s.Valves.Length == 1 && s.Valves[0] == valves[i]);
            shapes.Add(Text(Face.Music, 40, ValveLeft + (i * ValveStep) + 25, NumberBase, side?.Label ?? valves[i].Replace("b", "♭", StringComparison.Ordinal)));
        }

        return pen.Paint(ScreenLayout.Slide.Width, ScreenLayout.Slide.Height, ScreenLayout.Dark, [.. shapes]);
    }

    // From a little before the hand to the bow; the hand is at 26.
    private static Picture Outer(int length, Draughtsman pen)
    {
        var (half, bow) = (11, (LowerTube - UpperTube) / 2);
        var straight = length - bow - half;
        string Run(int r) => $"M8 {UpperTube - r} L{straight} {UpperTube - r} C{straight + ((bow + r) * 1.33)} {UpperTube - r} {straight + ((bow + r) * 1.33)} {LowerTube + r} {straight} {LowerTube + r} L8 {LowerTube + r}"
            .Replace(',', '.');
        var outline = Run(half) + $" L8 {LowerTube - half} L{straight} {LowerTube - half} C{straight + ((bow - half) * 1.33)} {LowerTube - half} {straight + ((bow - half) * 1.33)} {UpperTube + half} {straight} {UpperTube + half} L8 {UpperTube + half} Z";
        return pen.Paint(length + 40, ScaleTop, ScreenLayout.Dark,
            Print.Element("path", Print.Is("d", outline), Print.Is("fill", "#ece4d3"), Print.Is("stroke", "#26221c"), Print.Is("stroke-width", 3)),
            Bar(19, UpperTube - 14, 33, LowerTube + 14, "#26221c"),
            Print.Element("path", Print.Is("d", $"M26 {LowerTube + 14} L18 {ScaleTop - 1} L34 {ScaleTop - 1} Z"), Print.Is("fill", "#26221c"), Print.Is("stroke", "none")));
    }

    // As on the sheet: the valve in the plain face, the position in the bold one, no space between.
    private static Picture Plate(SlideSetting setting, Draughtsman pen)
    {
        var valve = setting.Side.Label;
        var position = setting.Label[valve.Length..].TrimStart();
        var (first, all) = (Wide(Face.Music, valve), Wide(Face.Music, valve) + Wide(Face.MusicBold, position));
        var width = Math.Max(58, (int)all + 30) & ~1;
        var left = (width - all) / 2;
        return pen.Paint(width, PlateHeight + 10, ScreenLayout.Dark,
            [Print.Element("path", Print.Is("d", $"M3 3 L{width - 3} 3 L{width - 3} {PlateHeight - 3} L{(width / 2) + 9} {PlateHeight - 3} L{width / 2} {PlateHeight + 7} L{(width / 2) - 9} {PlateHeight - 3} L3 {PlateHeight - 3} Z"), Print.Is("fill", "#faf7f0"), Print.Is("stroke", "#26221c"), Print.Is("stroke-width", 4)),
            .. Told(Face.Music, left, valve), .. Told(Face.MusicBold, left + first, position)]);

        double Wide(Face face, string text) => text.Length == 0 ? 0 : pen.WidthOf(face, PlateSize, text);

        IEnumerable<XElement> Told(Face face, double at, string text) => text.Length == 0 ? [] : [Print.Text(face, PlateSize, at, 42, text)];
    }

    private static Picture Piston(Draughtsman pen, bool down)
    {
        var stem = down ? 22 : 4;
        var top = down ? 60 : 32;
        return pen.Paint(50, 104, ScreenLayout.Dark,
            Bar(19, stem - 4, 31, stem, "#26221c"),
            Bar(23, stem, 27, top, "#26221c"),
            Print.Element("path", Print.Is("d", "M6 28 L44 28 L44 100 L6 100 Z"), Print.Is("fill", "none"), Print.Is("stroke", "#26221c"), Print.Is("stroke-width", 5)),
            Bar(8, top, 42, down ? 98 : 46, down ? "#26221c" : "#d8cfbf"));
    }

    private static IEnumerable<XElement> Tube(int left, int right, int y, int half, string fill, string edge) =>
        [Print.Element("path", Print.Is("d", $"M{left} {y - half} L{right} {y - half} L{right} {y + half} L{left} {y + half} Z"), Print.Is("fill", fill), Print.Is("stroke", edge), Print.Is("stroke-width", 3))];

    private static XElement Bar(int left, int top, int right, int bottom, string ink) => Print.Element(
        "path", Print.Is("d", $"M{left} {top} L{right} {top} L{right} {bottom} L{left} {bottom} Z"), Print.Is("fill", ink), Print.Is("stroke", "none"));

    private static XElement Text(Face face, double size, double x, double y, string text) => Print.Text(face, size, x, y, text, "middle");
}
