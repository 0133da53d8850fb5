using System.Xml.Linq;
using Seamwright.Core.Planning;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Guidance;
using Seamwright.Engraving.Pages;
using Seamwright.Engraving.Pictures;

namespace Seamwright.Film.Screen;

/// <summary>The kind of a change in large: its mark from the sheet and its word, faint while it is to come and strong while it is lit.</summary>
/// <param name="syllable">Of the soft tongue.</param>
/// <param name="pen">Draws.</param>
internal sealed class ChangeCards(string syllable, Draughtsman pen)
{
    private const double MarkScale = 0.36;
    private const int MarkMiddle = 132, WordLeft = 216;
    private static readonly int LitRight = ScreenLayout.Card.Width - 24, Widest = LitRight - 14 - WordLeft;
    private readonly Dictionary<(ChangeKind Kind, bool Down, bool TooFast, bool Lit), Picture> made = [];

    /// <summary>Draws one card.</summary>
    /// <param name="canvas">Drawn on.</param>
    /// <param name="area">The card's place.</param>
    /// <param name="change">What comes.</param>
    /// <param name="isLit">Whether it is about to come.</param>
    public Area Draw(Canvas canvas, Area area, NoteChange change, bool isLit)
    {
        var key = (change.Kind, change.PitchMotion == PitchMotion.Down, !change.Plausible, isLit);
        if (!made.TryGetValue(key, out var card)) made[key] = card = Card(change, isLit);
        if (isLit) canvas.Fill(new(area.Left + ScreenLayout.Side, area.Top + 22, area.Left + LitRight, area.Bottom - 44), ScreenLayout.Lit);
        canvas.Lay(card, area.Left, area.Top);
        return area;
    }

    /// <summary>The word for a change.</summary>
    public static string WordOf(NoteChange change) => change.Kind switch
    {
        ChangeKind.NaturalSlur => "natural slur",
        ChangeKind.ValveSlur => "valve slur",
        ChangeKind.SoftTongue => "soft tongue",
        ChangeKind.Glissando => "glissando",
        ChangeKind.Tongued => "tongued",
        _ => "breath",
    };

    private static SheetMark? MarkOf(NoteChange change) => change.Kind switch
    {
        ChangeKind.NaturalSlur => SheetMark.NaturalSlur,
        ChangeKind.ValveSlur => SheetMark.ValveSlur,
        ChangeKind.SoftTongue => SheetMark.SoftTongue,
        ChangeKind.Glissando => change.PitchMotion == PitchMotion.Down ? SheetMark.GlissandoDown : SheetMark.GlissandoUp,
        _ => null,
    };

    private Picture Card(NoteChange change, bool isLit)
    {
        var ink = isLit ? ScreenLayout.Dark : ScreenLayout.Faint;
        var second = change.Plausible ? change.Kind == ChangeKind.SoftTongue ? $"“{syllable}”" : "" : "too fast for the arm";
        var shapes = new List<XElement> { MarkShape(change) };
        var face = isLit ? Face.PageStrong : Face.Page;
        shapes.Add(Print.Text(face, Fitting(face, 52, WordOf(change)), WordLeft, second.Length > 0 ? 94 : 116, WordOf(change)));
        if (second.Length > 0) shapes.Add(Print.Text(Face.PageItalic, Fitting(Face.PageItalic, 40, second), WordLeft, 148, second));
        return pen.Paint(ScreenLayout.Card.Width, ScreenLayout.Card.Height, ink, [.. shapes]);
    }

    // A word that would run over the card's edge is set smaller.
    private double Fitting(Face face, double size, string word) => Math.Min(size, size * Widest / pen.WidthOf(face, size, word));

    private static XElement MarkShape(NoteChange change)
    {
        var drawing = MarkOf(change) is { } mark ? Print.Element("g", MarkShapes.Shape(mark)) : PlainShape(change.Kind);
        return Print.Element("g", Print.Is("transform", $"translate({MarkMiddle}, 100) scale({Print.Number(MarkScale)}, {Print.Number(MarkScale)})"), drawing);
    }

    // The sheet prints a comma for a breath and nothing under a tongued note: for that the thread of air with its stitch's gap.
    private static XElement PlainShape(ChangeKind kind) => kind == ChangeKind.Tongued
        ? Print.Path("M-150 0 L-24 0 M24 0 L150 0", filled: false, 34)
        : Print.Path("M-10 -70 C60 -90 90 0 -30 90 L-44 76 C10 20 10 0 -20 0 C-60 -10 -60 -60 -10 -70 Z", filled: true, 0);
}
