using System.Globalization;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Pictures;
using Seamwright.Film.Score;

namespace Seamwright.Film.Screen;

/// <summary>The head of the screen: the title at the left, tempo and bar at the right.</summary>
internal sealed class HeadLine(string title, Draughtsman pen)
{
    private const int BaseLine = 68;
    private readonly Dictionary<string, Picture> words = new(StringComparer.Ordinal);

    public void DrawStill(Canvas canvas)
    {
        const double Size = 50;
        if (title.Length > 0) canvas.Lay(pen.Line(Face.PageStrong, Size, title, ScreenLayout.Dark, 1020), ScreenLayout.Side - 2, BaseLine - Draughtsman.Baseline(Size));
        Stitches(canvas, ScreenLayout.SeamUnderHead);
        Stitches(canvas, ScreenLayout.SeamOverPanel);
    }

    public Area Draw(Canvas canvas, BarStart bar)
    {
        const double Size = 44;
        var tempo = string.Create(CultureInfo.InvariantCulture, $"♩{(bar.InThrees ? "." : "")} = {Math.Round(bar.BeatsPerMinute):0}");
        var number = Word(Face.PageStrong, Size, $"bar {bar.Bar}");
        canvas.Lay(number, ScreenLayout.Width - ScreenLayout.Side - number.Width, BaseLine - Draughtsman.Baseline(Size));
        canvas.Lay(Word(Face.Page, Size, tempo), 1340, BaseLine - Draughtsman.Baseline(Size));
        return ScreenLayout.HeadRight;
    }

    private Picture Word(Face face, double size, string text) =>
        words.TryGetValue(text, out var made) ? made : words[text] = pen.Line(face, size, text, ScreenLayout.Dark);

    // A row of stitches, as under the sheet's title.
    private static void Stitches(Canvas canvas, int y)
    {
        for (var x = ScreenLayout.Side; x + 14 <= ScreenLayout.Width - ScreenLayout.Side; x += 24) canvas.Fill(Area.Sized(x, y, 14, 2), ScreenLayout.Faint);
    }
}
