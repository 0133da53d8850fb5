using System.Xml.Linq;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Diagnosis.Page;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Report;

/// <summary>Sets words on paper; sizes are in points, places in hundredths of a millimetre.</summary>
internal sealed class Lettering(SheetFonts fonts)
{
    private const int Endless = 400;

    /// <summary>Of the paper's ink.</summary>
    public static string Ink => ReportInks.Printed.Ink;

    public static string Faint => ReportInks.Printed.Faint;

    public double Width(Face face, double points, string text) => fonts.Width(face, points * PageSize.Point, text);

    /// <summary>A paragraph, broken at words.</summary>
    /// <param name="face">Its face.</param>
    /// <param name="points">Its size.</param>
    /// <param name="width">Widest line.</param>
    /// <param name="text">Any text.</param>
    /// <param name="fill">Its colour.</param>
    /// <param name="lead">Printed before the first line, which it does not narrow: further lines stand under the first.</param>
    /// <param name="most">Most lines; what does not fit is cut.</param>
    public Block Paragraph(Face face, double points, double width, string text, string fill, string lead = "", int most = Endless)
    {
        var (em, line) = (points * PageSize.Point, 1.32 * points * PageSize.Point);
        var indent = lead.Length == 0 ? 0 : fonts.Width(face, em, lead) + (0.3 * em);
        var group = Print.Group("paragraph");
        if (lead.Length > 0) group.Add(Word(face, points, 0, em, lead, fill));
        var lines = TextWrap.Lines(PlainText.OneLine(text), width - indent, most, t => fonts.Width(face, em, t));
        for (var i = 0; i < lines.Count; i++) group.Add(Word(face, points, indent, em + (i * line), lines[i], fill));
        return new(group, lines.Count * line);
    }

    /// <summary>One line of text in a colour.</summary>
    public static XElement Word(Face face, double points, double x, double y, string text, string fill, string anchor = "start")
    {
        var word = Print.Text(face, points * PageSize.Point, x, y, text, anchor);
        word.SetAttributeValue("fill", fill);
        return word;
    }

    /// <summary>A verdict's shape and words, from a place on its baseline.</summary>
    /// <returns>The drawing and how wide it is.</returns>
    public (XElement Drawing, double Width) Verdict(Verdict verdict, string words, double points, double x, double y)
    {
        var em = points * PageSize.Point;
        var scale = 0.075 * em;
        var shape = Print.Element("g", Print.Is("transform", $"translate({Print.Number(x + (6 * scale))}, {Print.Number(y - (0.33 * em))}) scale({Print.Number(scale)}, {Print.Number(scale)})"), HeardPrint.Shape(verdict));
        var group = Print.Element("g", Print.Is("color", ReportInks.Printed.Of(verdict)), shape, Word(Face.Page, points, x + (15 * scale), y, words, ReportInks.Printed.Of(verdict)));
        return (group, (15 * scale) + fonts.Width(Face.Page, em, words));
    }

    /// <summary>Verdicts side by side, on as many lines as they need.</summary>
    public Block Verdicts(IEnumerable<(Verdict Verdict, string Words)> verdicts, double points, double width, double gap)
    {
        var em = points * PageSize.Point;
        var group = Print.Group("verdicts");
        double x = 0, y = em;
        foreach (var (verdict, words) in verdicts)
        {
            var (drawing, wide) = Verdict(verdict, words, points, x, y);
            if (x > 0 && x + wide > width)
            {
                (x, y) = (0, y + (1.32 * em));
                (drawing, wide) = Verdict(verdict, words, points, x, y);
            }

            group.Add(drawing);
            x += wide + gap;
        }

        return new(group, y + (0.32 * em));
    }
}
