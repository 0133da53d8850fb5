using Seamwright.Core.Diagnosis.Page;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Report;

/// <summary>Sets changes to mend: the picture at the left; place, verdicts, advice and figures at its right.</summary>
internal sealed class TroubleCards(Lettering letters, double width)
{
    private const double Between = 600, Small = 7.5;

    private double PictureWidth => 0.47 * width;

    private double TextWidth => width - PictureWidth - Between;

    /// <summary>One change.</summary>
    public Block Card(Trouble trouble)
    {
        var (picture, height) = PicturePrint.Of(trouble.Picture, PictureWidth);
        var group = Print.Group("card", picture);
        var y = 0.0;
        foreach (var block in Words(trouble))
        {
            y += block.Before;
            group.Add(Print.At(PictureWidth + Between, y, block.Drawing));
            y += block.Height;
        }

        return new(group, Math.Max(y, height));
    }

    private IEnumerable<Block> Words(Trouble trouble)
    {
        yield return letters.Paragraph(Face.PageStrong, 9.5, TextWidth, $"{trouble.Number}. {char.ToUpperInvariant(trouble.Place[0])}{trouble.Place[1..]}", Lettering.Ink);
        yield return letters.Paragraph(Face.Page, Small, TextWidth, $"{trouble.Notes}, {trouble.Asked}", Lettering.Faint);
        yield return letters.Verdicts(trouble.Verdicts.Select(v => (v, VerdictMarks.Words(v))), 9, TextWidth, 250) with { Before = 40 };
        yield return letters.Paragraph(Face.Page, 9, TextWidth, trouble.Advice, Lettering.Ink) with { Before = 30 };
        yield return Figures(trouble) with { Before = 110 };
        var first = true;
        foreach (var why in trouble.Reasons.Select(f => $"{Trouble.Label(f)}: {f.Basis}").Concat(trouble.Remarks))
        {
            yield return letters.Paragraph(Face.Page, Small, TextWidth, why, Lettering.Faint, "–") with { Before = first ? 110 : 0 };
            first = false;
        }
    }

    // Two columns, filled line by line; what is too wide for one takes the line.
    private Block Figures(Trouble trouble)
    {
        const double Em = Small * PageSize.Point, Line = 1.32 * Em;
        var group = Print.Group("figures");
        var half = TextWidth / 2;
        double x = 0, y = Em;
        foreach (var (name, figure) in trouble.Figures)
        {
            var lead = letters.Width(Face.PageItalic, Small, name + " ");
            var end = x + lead + letters.Width(Face.Page, Small, figure);
            if (x > 0 && end > TextWidth) (x, y, end) = (0, y + Line, end - half);
            group.Add(Lettering.Word(Face.PageItalic, Small, x, y, name, Lettering.Faint));
            group.Add(Lettering.Word(Face.Page, Small, x + lead, y, figure, Lettering.Ink));
            if (x > 0 || end > half - (0.5 * Em)) (x, y) = (0, y + Line);
            else x = half;
        }

        return new(group, y + (x > 0 ? Line : 0) - Em);
    }
}
