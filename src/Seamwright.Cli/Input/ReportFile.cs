using Seamwright.Core;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Diagnosis.Page;
using Seamwright.Core.Planning;
using Seamwright.Engraving;
using Seamwright.Engraving.Engines;

namespace Seamwright.Cli.Input;

/// <summary>A report as a file: a page for a screen, or pages to print.</summary>
/// <param name="Path">Ends in .html, .htm or .pdf.</param>
/// <param name="Take">The recording's name for the heading.</param>
/// <param name="Pupil">Whom it is for; empty for nobody.</param>
/// <param name="Paper">Of a PDF.</param>
internal sealed record ReportFile(string Path, string Take, string Pupil = "", Paper Paper = Paper.A4)
{
    /// <summary>Whether a name says what kind of report it is.</summary>
    public static bool Names(string path) => System.IO.Path.GetExtension(path).ToLowerInvariant() is ".html" or ".htm" or ".pdf";

    /// <summary>Writes it.</summary>
    /// <param name="heard">What it tells.</param>
    /// <param name="sheet">What was played from.</param>
    /// <returns>What could not be done as asked; an error where nothing was written.</returns>
    /// <exception cref="CannotWriteException">The file cannot be put there.</exception>
    public IReadOnlyList<Problem> Write(HeardTake heard, PlannedSheet sheet)
    {
        var report = ReportText.Of(heard.Take, heard.Diagnosis, heard.Plan, new ReportHeading(heard.Plan.Line.Title, Take, Pupil));
        return System.IO.Path.GetExtension(Path).Equals(".pdf", StringComparison.OrdinalIgnoreCase) ? WritePdf(report, sheet) : WritePage(report, sheet);
    }

    private List<Problem> WritePdf(ReportText report, PlannedSheet sheet)
    {
        try
        {
            using var engraver = Engravers.ForThisSystem();
            var printed = new ReportMaker(engraver).Print(sheet.Part, sheet.Plan, report, Paper);
            Files.Write(Path, printed.WritePdf);
            return [.. printed.Problems];
        }
        catch (EngravingException e)
        {
            return [new Problem("report", e.Message, "A report that ends in .html needs no engraver.", Severity.Error)];
        }
    }

    // Without an engraver the page still tells everything in words and pictures.
    private List<Problem> WritePage(ReportText report, PlannedSheet sheet)
    {
        var problems = new List<Problem>();
        PageMusic? music = null;
        try
        {
            using var engraver = Engravers.ForThisSystem();
            music = new ReportMaker(engraver).Music(sheet.Part, sheet.Plan, report);
        }
        catch (EngravingException e)
        {
            problems.Add(new Problem("report", $"The line of music is left out: {e.Message}", "", Severity.Warning));
        }

        Files.Write(Path, stream =>
        {
            using var writer = new StreamWriter(stream, leaveOpen: true) { NewLine = "\n" };
            ReportPage.Write(report, music, writer);
        });
        return problems;
    }
}
