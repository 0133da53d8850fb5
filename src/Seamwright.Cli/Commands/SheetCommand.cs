using System.CommandLine;
using System.Text;
using Seamwright.Cli.Input;
using Seamwright.Core;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Engraving;
using Seamwright.Engraving.Engines;
using Seamwright.Pack;

namespace Seamwright.Cli.Commands;

/// <summary><c>seamwright sheet PART -o sheet.pdf</c>: the marked sheet for the stand.</summary>
internal static class SheetCommand
{
    public static Command Build(Terminal terminal, TimeProvider clock)
    {
        var file = new FileArgument("PART", $"The part: {AnyScore.Kinds}.");
        var options = new PlanOptions();
        var output = CommonOptions.OutputFile("Where the sheet goes: .pdf, .svg (one file a page), .musicxml, or .mid for the line as it is played. Default: the part's name with .pdf.");
        output.Validators.Add(r =>
        {
            if (r.Tokens.Count == 1 && KindOf(r.Tokens[0].Value) is null)
                r.AddError($"'{r.Tokens[0].Value}' does not end in .pdf, .svg, .musicxml or .mid, so the kind of sheet is not clear.");
        });
        var paper = CommonOptions.Choice("--paper", "Paper", "a4", "a4", "letter");
        var (clef, syllable) = (SheetLook.ClefOption(), SheetLook.SyllableOption());
        var header = new Option<string>("--header") { Description = "A line of your own above the title, for instance the pupil's name.", DefaultValueFactory = _ => "", HelpName = "TEXT" };
        var command = new Command("sheet", "Print a part with positions and the kind of every change.") { file, output, paper, clef, syllable, header };
        options.AddTo(command);
        command.SetAction(result =>
        {
            var source = result.GetValue(file)!;
            var target = result.GetValue(output) ?? Path.ChangeExtension(Path.GetFileName(source), ".pdf");
            if (Files.WouldReplace([target], source).ToList() is { Count: > 0 } clash) return terminal.Fail(clash);
            var loaded = options.Load(source, result);
            if (!loaded.Succeeded) return terminal.Fail(loaded.Problems);
            terminal.Report(loaded.Problems);
            var look = new SheetOptions
            {
                Paper = result.GetValue(paper) == "letter" ? Paper.Letter : Paper.A4,
                Clef = SheetLook.Clef(result.GetValue(clef)!),
                Syllable = result.GetValue(syllable)!,
                TeacherLine = result.GetValue(header)!,
                QuartersPerMinute = options.TempoAsked(result),
            };
            return KindOf(target) switch
            {
                "musicxml" => WriteMusicXml(terminal, loaded.Value, look, target),
                "midi" => WriteMidi(terminal, loaded.Value, look, target),
                _ => WriteSheet(terminal, loaded.Value, look, target, clock),
            };
        });
        return command;
    }

    /// <summary>Engraves and writes PDF or SVG.</summary>
    public static int WriteSheet(Terminal terminal, PlannedSheet sheet, SheetOptions look, string target, TimeProvider clock)
    {
        try
        {
            using var engraver = Engravers.ForThisSystem();
            var made = new SheetMaker(engraver).Make(sheet.Score, sheet.Part, sheet.Plan, look);
            if (!made.Succeeded) return terminal.Fail(made.Problems);
            terminal.Report(made.Problems);
            if (KindOf(target) == "svg") WriteSvg(terminal, made.Value, target);
            else Files.Write(target, stream => made.Value.WritePdf(stream, clock.GetLocalNow()));
            terminal.Paragraph($"{Pages(made.Value.Pages.Length)} written to {target}.");
            return ExitCode.Done;
        }
        catch (EngravingException e)
        {
            return terminal.Fail([new Problem("engraving", e.Message, "", Severity.Error)]);
        }
    }

    private static void WriteSvg(Terminal terminal, EngravedSheet sheet, string target)
    {
        if (sheet.Pages.Length == 1)
        {
            Files.Write(target, stream => stream.Write(Encoding.UTF8.GetBytes(sheet.Pages[0])));
            return;
        }

        var stem = Path.Combine(Path.GetDirectoryName(target) ?? "", Path.GetFileNameWithoutExtension(target));
        for (var i = 0; i < sheet.Pages.Length; i++)
        {
            var page = sheet.Pages[i];
            Files.Write($"{stem}-{i + 1}.svg", stream => stream.Write(Encoding.UTF8.GetBytes(page)));
        }

        terminal.Paragraph($"One file a page: {stem}-1.svg to {stem}-{sheet.Pages.Length}.svg.");
    }

    private static int WriteMusicXml(Terminal terminal, PlannedSheet sheet, SheetOptions look, string target)
    {
        if (sheet.Score.Parts.Length > 1) terminal.Report([new Problem(target, $"holds the part {sheet.Part.Name} only, not the {sheet.Score.Parts.Length - 1} others.", "", Severity.Note)]);
        Files.Write(target, new PiecePack(sheet, look).WriteMusicXml);
        terminal.Paragraph($"MusicXML with positions and kinds of change written to {target}.");
        return ExitCode.Done;
    }

    private static int WriteMidi(Terminal terminal, PlannedSheet sheet, SheetOptions look, string target)
    {
        Files.Write(target, new PiecePack(sheet, look).WriteMidi);
        terminal.Paragraph($"MIDI of the line as it is played, repeats written out, written to {target}.");
        return ExitCode.Done;
    }

    private static string Pages(int count) => count == 1 ? "One page" : $"{count} pages";

    private static string? KindOf(string path) => Path.GetExtension(path).ToLowerInvariant() switch
    {
        ".pdf" => "pdf",
        ".svg" => "svg",
        ".musicxml" or ".xml" => "musicxml",
        ".mid" or ".midi" => "midi",
        _ => null,
    };
}
