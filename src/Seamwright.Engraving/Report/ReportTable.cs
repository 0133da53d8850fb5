using System.Xml.Linq;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Diagnosis.Page;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Report;

/// <summary>Sets the table of all notes, a block a row; columns are as wide as what stands in them, the print as large as then fits.</summary>
internal sealed class ReportTable
{
    private const double Largest = 7.5, Smallest = 5.5, Gap = 170;

    // Place, note, asked for; then what was heard; then the figures.
    private const int Words = 3, Heard = 3, Figures = 4;

    private readonly Lettering letters;
    private readonly double width;
    private readonly ReportText report;
    private readonly string[] names = ["bar, beat", "note", "asked for", "heard", .. ReportRow.Columns.Select(c => $"{c.Name}, {c.Unit}")];
    private readonly double points;
    private readonly double[] lefts;
    private readonly double[] widths;

    public ReportTable(ReportText report, Lettering letters, double width)
    {
        (this.report, this.letters, this.width) = (report, letters, width);
        for (points = Largest; points > Smallest && Needed().Sum() + (Gap * (names.Length - 1)) > width; points -= 0.25)
        {
        }

        widths = Needed();
        var spare = (width - widths.Sum()) / (names.Length - 1);
        lefts = [.. widths.Select((_, i) => widths.Take(i).Sum() + (i * spare))];
    }

    private double Em => points * PageSize.Point;

    private double RowHeight => 1.42 * Em;

    /// <summary>All rows; the head comes first and again on every page.</summary>
    public IReadOnlyList<Block> Rows()
    {
        var head = Head();
        return [head with { KeepsWithNext = true }, .. report.Rows.Select((r, i) => Row(r) with { Head = i == 0 ? null : head })];
    }

    private static string[] WordsOf(ReportRow row) => [row.Place, row.Name, row.Asked];

    private static (Verdict Verdict, string Words)[] HeardOf(ReportRow row) =>
        [.. row.Verdicts.Select((v, i) => (v, VerdictMarks.Words(v) + (row.Picture is { } n && i == 0 ? $" ({n})" : "")))];

    private double[] Needed()
    {
        double Widest(Face face, IEnumerable<string> texts) => texts.Select(t => letters.Width(face, points, t)).DefaultIfEmpty().Max();
        double heard = report.Rows.SelectMany(HeardOf).Select(v => letters.Verdict(v.Verdict, v.Words, points, 0, 0).Width).DefaultIfEmpty().Max();
        return [.. names.Select((n, i) => Math.Max(letters.Width(Face.PageItalic, points, n), i switch
        {
            < Words => Widest(Face.Page, report.Rows.Select(r => WordsOf(r)[i])),
            Heard => heard,
            _ => Widest(Face.Page, report.Rows.Select(r => r.Cells[i - Figures])),
        }))];
    }

    private Block Head()
    {
        var group = Print.Group("head");
        for (var i = 0; i < names.Length; i++) group.Add(Cell(Face.PageItalic, i, names[i], Lettering.Faint));
        group.Add(Rule(RowHeight - 20, 14));
        return new(group, RowHeight + 10);
    }

    private Block Row(ReportRow row)
    {
        var group = Print.Group("row");
        for (var i = 0; i < Words; i++) group.Add(Cell(Face.Page, i, WordsOf(row)[i], Lettering.Ink));
        for (var i = 0; i < row.Cells.Length; i++) group.Add(Cell(Face.Page, Figures + i, row.Cells[i].Length > 0 ? row.Cells[i] : "–", row.Cells[i].Length > 0 ? Lettering.Ink : Lettering.Faint));
        var heard = letters.Verdicts(HeardOf(row), points, widths[Heard], 100);
        group.Add(Print.At(lefts[Heard], 0, heard.Drawing));
        var height = Math.Max(RowHeight, heard.Height + (0.1 * Em));
        group.Add(Rule(height - 20, 6));
        return new(group, height);
    }

    private XElement Cell(Face face, int column, string text, string fill) => column < Figures
        ? Lettering.Word(face, points, lefts[column], Em, text, fill)
        : Lettering.Word(face, points, lefts[column] + widths[column], Em, text, fill, "end");

    private XElement Rule(double y, double thick)
    {
        var rule = Print.Path($"M0 {Print.Number(y)} L{Print.Number(width)} {Print.Number(y)}", filled: false, thick);
        rule.SetAttributeValue("stroke", ReportInks.Printed.Rule);
        return rule;
    }
}
