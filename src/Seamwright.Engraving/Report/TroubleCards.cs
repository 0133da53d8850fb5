using Seamwright.Core.Diagnosis.Page;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Report;

/// <summary>Sets changes to mend, two beside each other: place, verdicts, advice, picture, figures.</summary>
internal sealed class TroubleCards(Lettering letters, double width)
{
    private const double Between = 700;
    private const double Small = 7.5;

    private double Width => (width - Between) / 2;

    /// <summary>One row of cards.</summary>
    public Block SideBySide(IReadOnlyList<Trouble> pair)
    {
        var cards = pair.Select(Card).ToList();
        var group = Print.Group("cards", cards.Select((c, i) => Print.At(i * (Width + Between), 0, c.Drawing)));
        return new(group, cards.Max(c => c.Height));
    }

    private Block Card(Trouble trouble)
    {
        var group = Print.Group("card");
        var y = 0.0;
        foreach (var block in Parts(trouble))
        {
            y += block.Before;
            group.Add(Print.At(0, y, block.Drawing));
            y += block.Height;
        }

        return new(group, y);
    }

    private IEnumerable<Block> Parts(Trouble trouble)
    {
        yield return letters.Paragraph(Face.PageStrong, 9.5, Width, $"{trouble.Number}. {char.ToUpperInvariant(trouble.Place[0])}{trouble.Place[1..]}", Lettering.Ink);
        yield return letters.Paragraph(Face.Page, Small, Width, $"{trouble.Notes}, {trouble.Asked}", Lettering.Faint);
        yield return letters.Verdicts(trouble.Findings.Select(f => (f.Verdict, VerdictMarks.Words(f.Verdict))), 9, Width, 250);
        yield return letters.Paragraph(Face.Page, 8.5, Width, trouble.Advice, Lettering.Ink);
        var (drawing, height) = PicturePrint.Of(trouble.Picture, Width);
        yield return new Block(drawing, height) { Before = 60 };
        yield return letters.Paragraph(Face.Page, Small, Width, string.Join("  ·  ", trouble.Figures.Select(f => $"{f.Name} {f.Figure}")), Lettering.Ink) with { Before = 60 };
        foreach (var finding in trouble.Findings.Where(f => f.Basis.Length > 0))
            yield return letters.Paragraph(Face.Page, Small, Width, $"{VerdictMarks.Words(finding.Verdict)}: {finding.Basis}", Lettering.Faint);
        foreach (var remark in trouble.Remarks) yield return letters.Paragraph(Face.Page, Small, Width, remark, Lettering.Faint);
    }
}
