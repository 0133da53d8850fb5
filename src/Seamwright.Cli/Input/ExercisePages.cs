using System.CommandLine;
using Seamwright.Cli.Commands;
using Seamwright.Core;
using Seamwright.Core.Exercises;
using Seamwright.Engraving;
using Seamwright.Engraving.Engines;

namespace Seamwright.Cli.Input;

/// <summary>A few exercises as one PDF that looks like a page of a book, and the options that say how it looks.</summary>
internal sealed class ExercisePages
{
    private readonly Option<string> paper = CommonOptions.Choice("--paper", "Paper", "a4", "a4", "letter");
    private readonly Option<string> syllable = SheetLook.SyllableOption();
    private readonly Option<string> header = new("--header") { Description = "A line for the foot of the pages, for instance the pupil's name.", DefaultValueFactory = _ => "", HelpName = "TEXT" };

    public void AddTo(Command command)
    {
        foreach (var option in (Option[])[paper, syllable, header]) command.Add(option);
    }

    /// <summary>What a command line says.</summary>
    /// <param name="result">Without errors.</param>
    /// <param name="title">At the foot where no header is given.</param>
    public BookOptions Look(ParseResult result, string title = "") => new()
    {
        Paper = result.GetValue(paper) == "letter" ? Paper.Letter : Paper.A4,
        Title = result.GetValue(header) is { Length: > 0 } own ? own : title,
        Syllable = result.GetValue(syllable)!,
        HasFront = false,
    };

    /// <summary>Engraves and writes them.</summary>
    /// <returns>The exit code; everything is said.</returns>
    public static int Write(Terminal terminal, IReadOnlyList<Exercise> exercises, BookOptions look, string target)
    {
        try
        {
            using var engraver = Engravers.ForThisSystem();
            using var progress = new ProgressLine(terminal, "Engraving");
            var book = new BookMaker(engraver).Make([.. exercises.Select(e => new BookEntry(e))], look, exercises.Count > 4 ? progress.Show : null);
            terminal.Report(book.Problems);
            Files.Write(target, book.WritePdf);
            terminal.Paragraph($"{(book.Pages == 1 ? "One page" : $"{book.Pages} pages")} written to {target}.");
            return ExitCode.Done;
        }
        catch (EngravingException e)
        {
            return terminal.Fail([new Problem("engraving", e.Message, "A name that ends in .musicxml, where the command has it, needs no engraver.", Severity.Error)]);
        }
    }
}
