using System.CommandLine;
using System.CommandLine.Help;
using Seamwright.Cli.Commands;
using Seamwright.Cli.Input;

namespace Seamwright.Cli;

/// <summary>The whole command line: parses, runs, and turns every failure into a message and an exit code.</summary>
internal static class SeamwrightCommand
{
    /// <summary>Runs one command line.</summary>
    /// <param name="args">Without the program's name.</param>
    /// <param name="terminal">Where it speaks.</param>
    /// <param name="clock">Dates the sheets.</param>
    /// <returns>A code of <see cref="ExitCode"/>.</returns>
    public static int Run(string[] args, Terminal terminal, TimeProvider clock)
    {
        var root = Build(terminal, clock);
        var parsed = root.Parse(args.Length == 0 ? ["--help"] : args, new ParserConfiguration { ResponseFileTokenReplacer = null });
        if (parsed.Errors.Count > 0) return WrongUsage(parsed, parsed.Errors.Select(e => e.Message), terminal);
        var files = new NamedFiles(parsed);
        if (files.Shared().ToList() is { Count: > 0 } shared) return WrongUsage(parsed, shared, terminal);
        if (files.Misplaced().ToList() is { Count: > 0 } misplaced) return terminal.Fail(misplaced);
        try
        {
            var configuration = new InvocationConfiguration { Output = terminal.Output, Error = terminal.Error, EnableDefaultExceptionHandler = false };
            var older = files.Older();
            var code = parsed.Invoke(configuration);
            terminal.Report(NamedFiles.Replaced(older));
            return code;
        }
        catch (CannotWriteException e)
        {
            terminal.Complaint($"error: {e.Message} Choose another place for it.");
            return ExitCode.BadInput;
        }
        catch (ArgumentOutOfRangeException e) when (e.TargetSite?.DeclaringType?.Namespace?.StartsWith("System.IO", StringComparison.Ordinal) == true)
        {
            // So the runtime tells a file that has grown longer than the disk, or a limit set for this user, allows.
            terminal.Complaint("error: a result has grown longer than a file may be on that disk. Nothing was written. Choose another place for it.");
            return ExitCode.BadInput;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            terminal.Complaint($"error: {e.Message}");
            return ExitCode.BadInput;
        }
    }

    private static RootCommand Build(Terminal terminal, TimeProvider clock)
    {
        var root = Commands(terminal, clock);
        root.Options.OfType<HelpOption>().Single().Action = new HelpAction { MaxWidth = terminal.Width - 1 };
        return root;
    }

    private static RootCommand Commands(Terminal terminal, TimeProvider clock) => new("Legato for trombone: plan it, print it, play along with it, hear it.")
    {
        InstrumentsCommand.Build(terminal),
        PositionsCommand.Build(terminal),
        PlanCommand.Build(terminal),
        SheetCommand.Build(terminal, clock),
        SoundCommand.Build(terminal),
        FilmCommand.Build(terminal),
        ExerciseCommand.Build(terminal),
        BookCommand.Build(terminal),
        HearCommand.Build(terminal),
        NextCommand.Build(terminal),
        KeysCommand.Build(terminal),
        CalibrateCommand.Build(terminal),
        DemoCommand.Build(terminal, clock),
        OpenCommand.Build(terminal, clock),
    };

    private static int WrongUsage(ParseResult parsed, IEnumerable<string> errors, Terminal terminal)
    {
        foreach (var error in errors) terminal.Complaint($"error: {error}");
        var command = parsed.CommandResult.Command;
        terminal.Complaint($"See 'seamwright {(command is RootCommand ? "" : command.Name + " ")}--help'.");
        return ExitCode.WrongUsage;
    }
}
