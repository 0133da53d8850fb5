using System.CommandLine;
using System.Text;
using Seamwright.Audio.Writing;
using Seamwright.Cli.Input;
using Seamwright.Core;
using Seamwright.Core.Exercises;
using Seamwright.Engraving;
using Seamwright.Engraving.Engines;
using Seamwright.Pack;

namespace Seamwright.Cli.Commands;

/// <summary><c>seamwright book RECIPE -o book.pdf</c>: a collection of exercises, with sound and as one pack where asked.</summary>
internal static class BookCommand
{
    public static Command Build(Terminal terminal)
    {
        var recipe = new FileArgument("RECIPE", "A recipe (JSON).") { Arity = ArgumentArity.ZeroOrOne };
        var init = new FileOption<string?>(FileUse.Written, "Write a recipe to begin with, and nothing else.", "--init");
        var output = CommonOptions.OutputFile("The book, a .pdf. Default: the recipe's name with .pdf.");
        var sound = new Option<bool>("--sound") { Description = "A play-along for each exercise beside the book." };
        var soundAs = CommonOptions.Choice("--sound-as", "Kind of sound file", "opus", "opus", "mp3", "wav", "flac");
        var pack = new FileOption<string?>(FileUse.Written, "One .zip with the book, a play-along and MusicXML for each exercise, and a page to open in a browser.", "--pack");
        var command = new Command("book", "Make a book of exercises from a recipe.") { recipe, output, sound, soundAs, pack, init };
        output.Validators.Add(r => Ends(r, ".pdf"));
        pack.Validators.Add(r => Ends(r, ".zip"));
        init.Validators.Add(r => Ends(r, ".json"));
        command.Validators.Add(r =>
        {
            var begins = r.GetResult(init) is not null;
            if (begins && (r.GetResult(recipe)?.Tokens.Count > 0 || r.GetResult(output) is not null || r.GetResult(pack) is not null)) r.AddError("--init writes a recipe and nothing else: leave the rest out.");
            else if (!begins && r.GetResult(soundAs)?.Tokens.Count > 0 && !r.GetValue(sound) && r.GetResult(pack) is null) r.AddError("--sound-as means nothing without --sound or --pack: add one, or leave it out.");
            else if (!begins && r.GetResult(recipe)?.Tokens.Count is not > 0) r.AddError("Name a recipe; --init FILE.json writes one to begin with.");
        });
        command.SetAction(result =>
        {
            if (result.GetValue(init) is { } example) return Begin(terminal, example);
            var source = result.GetValue(recipe)!;
            var target = result.GetValue(output) ?? Path.ChangeExtension(Path.GetFileName(source), ".pdf");
            return Make(terminal, source, new BookFiles(target, result.GetValue(sound), result.GetValue(soundAs)!, result.GetValue(pack)));
        });
        return command;
    }

    private static void Ends(System.CommandLine.Parsing.OptionResult r, string ending)
    {
        if (r.Tokens.Count == 1 && !Path.GetExtension(r.Tokens[0].Value).Equals(ending, StringComparison.OrdinalIgnoreCase))
            r.AddError($"'{r.Tokens[0].Value}' does not end in {ending}.");
    }

    private static int Begin(Terminal terminal, string path)
    {
        if (File.Exists(path)) return terminal.Fail([new Problem(path, "is there already; it is not replaced.", "Name another file.", Severity.Error)]);
        Files.Write(path, stream => stream.Write(Encoding.UTF8.GetBytes(BookRecipeExample.Text)));
        terminal.Paragraph($"A recipe to begin with: {path}. Change it, then: seamwright book {path}");
        return ExitCode.Done;
    }

    private static int Make(Terminal terminal, string source, BookFiles files)
    {
        var loaded = RecipeBook.Load(source);
        if (!loaded.Succeeded) return terminal.Fail(loaded.Problems);
        var book = loaded.Value;
        var exercises = book.Entries.Select(e => e.Exercise).ToList();
        List<Problem> wrong = [.. Files.WouldReplace(files.All(exercises), [.. book.Inputs]), .. files.Unwritable()];
        if (wrong.Count > 0) return terminal.Fail(wrong);
        terminal.Report(loaded.Problems);
        try
        {
            var printed = Print(terminal, book);
            terminal.Report(printed.Problems);
            using var sounds = new SoundFolder();
            if (files.NeedsSound && Sound(terminal, sounds, exercises, book, files.SoundEnding) is { Count: > 0 } failed) return terminal.Fail(failed);
            Write(files, book, printed, sounds);
            Tell(terminal, book, printed, files);
            return ExitCode.Done;
        }
        catch (EngravingException e)
        {
            return terminal.Fail([new Problem("engraving", e.Message, "", Severity.Error)]);
        }
    }

    private static PrintedBook Print(Terminal terminal, RecipeBook book)
    {
        using var engraver = Engravers.ForThisSystem();
        using var progress = new ProgressLine(terminal, "Engraving");
        return new BookMaker(engraver).Make(book.Entries, book.Look, progress.Show);
    }

    private static IReadOnlyList<Problem> Sound(Terminal terminal, SoundFolder sounds, List<Exercise> exercises, RecipeBook book, string ending)
    {
        using var progress = new ProgressLine(terminal, "Sounding");
        return sounds.Fill([.. exercises.Select(e => (e, book.Pupil.Settings))], ending, book.Sound, progress.Show);
    }

    private static void Write(BookFiles files, RecipeBook book, PrintedBook printed, SoundFolder sounds)
    {
        Files.Write(files.Book, printed.WritePdf);
        if (files.Sound)
        {
            foreach (var (made, target) in sounds.Made.Zip(files.Sounds([.. book.Entries.Select(e => e.Exercise)])))
            {
                using var from = File.OpenRead(made);
                Files.Write(target, from.CopyTo);
            }
        }

        if (files.Pack is { } pack) Files.Write(pack, stream => new BookPack(book.Entries, book.Look, printed, sounds.Made).Write(stream));
    }

    private static void Tell(Terminal terminal, RecipeBook book, PrintedBook printed, BookFiles files)
    {
        ExerciseText.Write(terminal, [.. book.Entries.Select(e => e.Exercise)], book.Pupil);
        terminal.Paragraph($"\"{book.Look.Title}\", {(printed.Pages == 1 ? "one page" : $"{printed.Pages} pages")}: {files.Book}");
        if (files.Sound) terminal.Paragraph($"{(book.Entries.Length == 1 ? "A play-along" : $"{book.Entries.Length} play-alongs")} beside it.");
        if (files.Pack is { } pack) terminal.Paragraph($"All of it in one pack: {pack}");
    }
}

/// <summary>Where a book and what goes with it are put.</summary>
/// <param name="Book">The PDF.</param>
/// <param name="Sound">Whether play-alongs stand beside it.</param>
/// <param name="SoundKind">An ending without its point.</param>
/// <param name="Pack">The zip; null for none.</param>
internal sealed record BookFiles(string Book, bool Sound, string SoundKind, string? Pack)
{
    /// <summary>A pack always has sound.</summary>
    public bool NeedsSound => Sound || Pack is not null;

    public string SoundEnding => $".{SoundKind}";

    public IReadOnlyList<string> Sounds(IReadOnlyList<Exercise> exercises) => ExerciseFiles.Numbered(Path.ChangeExtension(Book, SoundEnding), exercises);

    public IEnumerable<string?> All(IReadOnlyList<Exercise> exercises) => [Book, Pack, .. Sound ? Sounds(exercises) : []];

    /// <summary>What keeps sound of this kind from being written at all.</summary>
    public IEnumerable<Problem> Unwritable() => NeedsSound ? SoundFileWriter.Check(Path.Combine(Path.GetTempPath(), "sound" + SoundEnding)) : [];
}
