using System.Xml.Linq;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Pages;
using Seamwright.Engraving.Pictures;

namespace Seamwright.Film.Screen;

/// <summary>Makes the small pictures that a screen is put together from.</summary>
internal sealed class Draughtsman(SheetFonts fonts)
{
    private readonly PicturePainter painter = new(fonts);

    /// <summary>A drawing in dots.</summary>
    public Picture Paint(int width, int height, Ink ink, params XElement[] shapes) =>
        painter.Paint(Print.Element("g", shapes), width, height, Transform.None, ink);

    /// <summary>One line of text, cut to a width with an ellipsis.</summary>
    /// <param name="face">Its face.</param>
    /// <param name="size">Height of an em in dots.</param>
    /// <param name="text">Not empty.</param>
    /// <param name="ink">Its colour.</param>
    /// <param name="widest">Dots.</param>
    /// <returns>As wide as the text; the baseline lies at <see cref="Baseline"/> of the size.</returns>
    public Picture Line(Face face, double size, string text, Ink ink, int widest = ScreenLayout.Width)
    {
        var fits = Fitting(face, size, text, widest);
        return Paint((int)Math.Ceiling(fonts.Width(face, size, fits)) + 4, (int)Math.Ceiling(size * 1.3), ink, Print.Text(face, size, 2, Baseline(size), fits));
    }

    public static int Baseline(double size) => (int)Math.Round(size);

    public double WidthOf(Face face, double size, string text) => fonts.Width(face, size, text);

    private string Fitting(Face face, double size, string text, int widest)
    {
        if (fonts.Width(face, size, text) <= widest) return text;
        var kept = text;
        while (kept.Length > 1 && fonts.Width(face, size, kept + "…") > widest) kept = kept[..^(char.IsLowSurrogate(kept[^1]) ? 2 : 1)];
        return kept.TrimEnd() + "…";
    }
}
