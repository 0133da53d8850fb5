using System.Globalization;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Pictures;
using Seamwright.Film.Score;

namespace Seamwright.Film.Screen;

/// <summary>The head of the screen: the title at the left, whose turn it is in the middle, tempo and bar at the right.</summary>
/// <param name="title">May be empty.</param>
/// <param name="hasSigns">Whether room is kept for whose turn it is.</param>
/// <param name="pen">Draws.</param>
internal sealed class HeadLine(string title, bool hasSigns, Draughtsman pen)
{
    private const int BaseLine = 68, TempoLeft = 1380;
    private readonly Dictionary<string, Picture> words = new(StringComparer.Ordinal);
    private readonly Dictionary<BeatNote, Picture> notes = [];

    public void DrawStill(Canvas canvas)
    {
        const double Size = 50;
        if (title.Length > 0) canvas.Lay(pen.Line(Face.PageStrong, Size, title, ScreenLayout.Dark, hasSigns ? ScreenLayout.Turn.Left - ScreenLayout.Side - 30 : 1020), ScreenLayout.Side - 2, BaseLine - Draughtsman.Baseline(Size));
        Stitches(canvas, ScreenLayout.SeamUnderHead);
        Stitches(canvas, ScreenLayout.SeamOverPanel);
    }

    public Area Draw(Canvas canvas, BarStart bar)
    {
        const double Size = 44;
        var tempo = Tempo(bar);
        var number = Word(Face.PageStrong, Size, $"bar {bar.Bar}");
        canvas.Lay(number, ScreenLayout.Width - ScreenLayout.Side - number.Width, BaseLine - Draughtsman.Baseline(Size));
        if (!notes.TryGetValue(bar.Beat, out var note)) notes[bar.Beat] = note = NoteSigns.Of(bar.Beat, pen);
        canvas.Lay(note, TempoLeft - NoteSigns.Width, BaseLine + NoteSigns.Below - NoteSigns.Height);
        canvas.Lay(Word(Face.Page, Size, tempo), TempoLeft + 6, BaseLine - Draughtsman.Baseline(Size));
        return ScreenLayout.HeadRight;
    }

    /// <summary>Whose turn it is: on light where it is the pupil's.</summary>
    public Area Draw(Canvas canvas, TurnSign sign)
    {
        const double Size = 44;
        if (sign.Text.Length == 0) return default;
        var area = ScreenLayout.Turn;
        var word = Word(sign.IsYours ? Face.PageStrong : Face.Page, Size, sign.Text);
        if (sign.IsYours) canvas.Fill(area, ScreenLayout.Lit);
        canvas.Lay(word, area.Left + ((area.Width - word.Width) / 2), BaseLine - Draughtsman.Baseline(Size));
        return area;
    }

    /// <summary>For instance <c>= 62.5</c>: as it was ordered, to a hundredth.</summary>
    public static string Tempo(BarStart bar) => string.Create(CultureInfo.InvariantCulture, $"= {bar.BeatsPerMinute:0.##}");

    private Picture Word(Face face, double size, string text) =>
        words.TryGetValue(text, out var made) ? made : words[text] = pen.Line(face, size, text, ScreenLayout.Dark, ScreenLayout.Turn.Width - 10);

    // A row of stitches, as under the sheet's title.
    private static void Stitches(Canvas canvas, int y)
    {
        for (var x = ScreenLayout.Side; x + 14 <= ScreenLayout.Width - ScreenLayout.Side; x += 24) canvas.Fill(Area.Sized(x, y, 14, 2), ScreenLayout.Faint);
    }
}
