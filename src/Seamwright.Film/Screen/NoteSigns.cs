using System.Globalization;
using System.Xml.Linq;
using Seamwright.Engraving.Pages;
using Seamwright.Engraving.Pictures;
using Seamwright.Film.Score;

namespace Seamwright.Film.Screen;

/// <summary>The note of a tempo mark, drawn: the text faces have a quarter at most.</summary>
internal static class NoteSigns
{
    public const int Width = 44, Height = 62;

    // Where its lower edge lies below the line of text.
    public const int Below = 2;

    private const double HeadX = 14, HeadY = 51, HeadLong = 12, HeadShort = 8, Lean = -0.35;

    /// <summary>Draws it.</summary>
    public static Picture Of(BeatNote beat, Draughtsman pen)
    {
        List<XElement> shapes = [Print.Path(Head(), filled: beat != BeatNote.Half, beat == BeatNote.Half ? 3.4 : 0), Print.Path("M24.6 46 L24.6 6", filled: false, 3)];
        if (beat == BeatNote.DottedQuarter) shapes.Add(Print.Element("ellipse", Print.Is("cx", 38), Print.Is("cy", 50), Print.Is("rx", 4), Print.Is("ry", 4)));
        return pen.Paint(Width, Height, ScreenLayout.Dark, [.. shapes]);
    }

    // A leaning ellipse of four curves.
    private static string Head()
    {
        const double Round = 0.5523;
        (double X, double Y)[] around = [(1, 0), (1, Round), (Round, 1), (0, 1), (-Round, 1), (-1, Round), (-1, 0), (-1, -Round), (-Round, -1), (0, -1), (Round, -1), (1, -Round), (1, 0)];
        var points = around.Select(p => (X: p.X * HeadLong, Y: p.Y * HeadShort))
            .Select(p => string.Create(CultureInfo.InvariantCulture, $"{HeadX + (p.X * Math.Cos(Lean)) - (p.Y * Math.Sin(Lean)):0.##} {HeadY + (p.X * Math.Sin(Lean)) + (p.Y * Math.Cos(Lean)):0.##}")).ToList();
        return $"M{points[0]} C{string.Join(' ', points.Skip(1).Take(3))} C{string.Join(' ', points.Skip(4).Take(3))} C{string.Join(' ', points.Skip(7).Take(3))} C{string.Join(' ', points.Skip(10))} Z";
    }
}
