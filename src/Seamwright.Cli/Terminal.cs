using Seamwright.Core;
using Spectre.Console;

namespace Seamwright.Cli;

/// <summary>Where a command speaks: results to the output, problems to the error stream.</summary>
/// <param name="output">Results.</param>
/// <param name="error">Problems.</param>
/// <param name="width">Columns of the terminal; 80 where there is none.</param>
/// <param name="isLive">Whether the error stream is a terminal, on which a line can be written over.</param>
internal sealed class Terminal(TextWriter output, TextWriter error, int width, bool isLive = false)
{
    public TextWriter Output { get; } = output;

    public TextWriter Error { get; } = error;

    public int Width { get; } = width;

    public bool IsLive { get; } = isLive;

    /// <summary>The process's own console.</summary>
    public static Terminal OfProcess()
    {
        var wide = Console.IsOutputRedirected ? 80 : Math.Clamp(Console.WindowWidth, 40, 160);
        return new Terminal(Console.Out, Console.Error, wide, !Console.IsErrorRedirected);
    }

    /// <summary>The same without results; problems and progress are still said.</summary>
    public Terminal Quiet() => new(TextWriter.Null, Error, Width, IsLive);

    public void Line(string text = "") => Output.WriteLine(text);

    /// <summary>A paragraph, broken at words to the terminal's width.</summary>
    /// <param name="text">Any text.</param>
    /// <param name="indent">Columns before every line but the first.</param>
    public void Paragraph(string text, int indent = 0)
    {
        foreach (var line in Wrap(text, Width - 1, indent)) Output.WriteLine(line);
    }

    /// <summary>A table, no wider than the terminal.</summary>
    public void Table(IReadOnlyList<string> heads, IEnumerable<IReadOnlyList<string>> rows, params int[] rightAligned)
    {
        var table = new Table().Border(TableBorder.Simple).Collapse();
        for (var i = 0; i < heads.Count; i++)
        {
            var column = new TableColumn(new Text(heads[i])).NoWrap().PadLeft(0).PadRight(2);
            table.AddColumn(rightAligned.Contains(i) ? column.RightAligned() : column);
        }

        // Only the last column may wrap: the others are short, and a table that cannot shrink prints nothing.
        table.Columns[^1].NoWrap = false;
        foreach (var row in rows) table.AddRow(row.Select(c => new Text(c)));
        Canvas().Write(table);
    }

    /// <summary>Says problems aloud and goes on.</summary>
    public void Report(IEnumerable<Problem> problems)
    {
        foreach (var problem in problems)
        {
            var word = problem.Severity switch
            {
                Severity.Error => "error",
                Severity.Warning => "warning",
                _ => "note",
            };
            Complaint($"{word}: {problem}");
        }
    }

    /// <summary>A sentence on the error stream, broken as a paragraph.</summary>
    public void Complaint(string text)
    {
        foreach (var line in Wrap(text, Width - 1, 2)) Error.WriteLine(line);
    }

    /// <summary>Says why the input cannot be used.</summary>
    public int Fail(IEnumerable<Problem> problems)
    {
        Report(problems);
        return ExitCode.BadInput;
    }

    private IAnsiConsole Canvas()
    {
        var console = AnsiConsole.Create(new AnsiConsoleSettings
        {
            Ansi = AnsiSupport.No,
            ColorSystem = ColorSystemSupport.NoColors,
            Out = new AnsiConsoleOutput(Output),
            Interactive = InteractionSupport.No,
        });
        console.Profile.Width = Width;
        return console;
    }

    private static IEnumerable<string> Wrap(string text, int width, int indent)
    {
        var line = "";
        var first = true;
        foreach (var word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            var start = first ? "" : new string(' ', indent);
            if (line.Length > 0 && start.Length + line.Length + 1 + word.Length > width)
            {
                yield return start + line;
                line = word;
                first = false;
            }
            else
            {
                line = line.Length == 0 ? word : $"{line} {word}";
            }
        }

        yield return (first ? "" : new string(' ', indent)) + line;
    }
}
