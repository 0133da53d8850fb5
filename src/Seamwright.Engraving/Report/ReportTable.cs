using System.Xml.Linq;
using Seamwright.Core.Diagnosis.Page;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Report;

/// <summary>Sets the table of all notes, a block a row.</summary>
internal sealed class ReportTable(Lettering letters, double width)
{
    private const double Points = 7, Em = Points * PageSize.Point, RowHeight = 1.42 * Em;

    // Shares of the width: place, note, asked for, heard, then the figures.
    private static readonly double[] Shares = [11.5, 9.5, 10, 21, 10, 8.5, 10, 12, 10, 11, 7];
    private static readonly int Words = 4;

    private readonly double[] ends = Ends(width);

    /// <summary>All rows; the head comes first and again on every page.</summary>
    public IReadOnlyList<Block> Rows(ReportText report)
    {
        var head = Head();
        return [head with { KeepsWithNext = true }, .. report.Rows.Select(r => Row(r) with { Head = head })];
    }

    private static double[] Ends(double width)
    {
        var sum = 0.0;
        return [.. Shares.Select(s => (sum += s) / Shares.Sum() * width)];
    }

    private double Left(int column) => column == 0 ? 0 : ends[column - 1];

    private Block Head()
    {
        var group = Print.Group("head");
        string[] names = ["bar, beat", "note", "asked for", "heard", .. ReportRow.Columns.Select(c => $"{c.Name}, {c.Unit}")];
        for (var i = 0; i < names.Length; i++)
            group.Add(i < Words ? Lettering.Word(Face.PageItalic, Points, Left(i), Em, names[i], Lettering.Faint) : Lettering.Word(Face.PageItalic, Points, ends[i], Em, names[i], Lettering.Faint, "end"));
        group.Add(Rule(RowHeight - 20, 14));
        return new(group, RowHeight + 10);
    }

    private Block Row(ReportRow row)
    {
        var group = Print.Group("row");
        string[] words = [row.Place, row.Name, row.Asked];
        for (var i = 0; i < words.Length; i++) group.Add(Lettering.Word(Face.Page, Points, Left(i), Em, words[i], Lettering.Ink));
        var heard = Heard(row, ends[3] - Left(3) - 60);
        group.Add(Print.At(Left(3), 0, heard.Drawing));
        for (var i = 0; i < row.Cells.Length; i++)
        {
            var known = row.Cells[i].Length > 0;
            group.Add(Lettering.Word(Face.Page, Points, ends[Words + i], Em, known ? row.Cells[i] : "–", known ? Lettering.Ink : Lettering.Faint, "end"));
        }

        var height = Math.Max(RowHeight, heard.Height + (0.1 * Em));
        group.Add(Rule(height - 20, 6));
        return new(group, height);
    }

    private Block Heard(ReportRow row, double room)
    {
        var words = row.Verdicts.Select((v, i) => (v, Spoken(v) + (row.Picture is { } n && i == 0 ? $" ({n})" : ""))).ToList();
        return words.Count == 0 ? new(Print.Group("verdicts"), RowHeight) : letters.Verdicts(words, Points, room, 100);
    }

    private static string Spoken(Core.Diagnosis.Verdict verdict) => VerdictMarks.Words(verdict);

    private XElement Rule(double y, double thick)
    {
        var rule = Print.Path($"M0 {Print.Number(y)} L{Print.Number(width)} {Print.Number(y)}", filled: false, thick);
        rule.SetAttributeValue("stroke", ReportInks.Printed.Rule);
        return rule;
    }
}
