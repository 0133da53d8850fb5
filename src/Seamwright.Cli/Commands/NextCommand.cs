using System.CommandLine;
using Seamwright.Audio;
using Seamwright.Cli.Input;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Exercises;
using Seamwright.Core.Scores.MusicXml;
using Seamwright.Engraving;

namespace Seamwright.Cli.Commands;

/// <summary><c>seamwright next TAKE --part PART</c>: a take's three worst faults become the next exercises.</summary>
internal static class NextCommand
{
    public static Command Build(Terminal terminal)
    {
        var take = new FileArgument("TAKE", $"A recording of the part: {SoundFile.Kinds}.");
        var part = new FileOption<string>(FileUse.Read, "The MusicXML file that was played.", "--part") { Required = true };
        var options = new PlanOptions("--part-name");
        var attempt = CommonOptions.Attempt();
        var pupil = new PupilOfPart();
        var output = CommonOptions.OutputFile("The exercises: .pdf, all in one, or .musicxml, a file each with its number.");
        output.Validators.Add(r =>
        {
            if (r.Tokens.Count == 1 && !(IsPdf(r.Tokens[0].Value) || r.Tokens[0].Value.EndsWith(".musicxml", StringComparison.OrdinalIgnoreCase)))
                r.AddError($"'{r.Tokens[0].Value}' does not end in .pdf or .musicxml, so the kind of file is not clear.");
        });
        var pages = new ExercisePages();
        var command = new Command("next", "Listen to a recording and make the exercises to practise next.") { take, part, attempt, output };
        pages.AddTo(command);
        pupil.AddTo(command);
        options.AddTo(command);
        command.SetAction(result =>
        {
            var loaded = options.Load(result.GetValue(part)!, result);
            var opened = SoundFile.Open(result.GetValue(take)!);
            using var sound = opened.Succeeded ? opened.Value : null;
            if (sound is null || !loaded.Succeeded) return terminal.Fail([.. loaded.Problems, .. opened.Problems]);
            terminal.Report(loaded.Problems);
            var heard = HeardTake.Of(sound, loaded.Value.Plan, result.GetValue(attempt), shown: false);
            terminal.Report(heard.Take.Problems);
            if ((heard.Nothing(result.GetValue(take)!) ?? heard.NoSuchAttempt(result.GetValue(take)!, result.GetValue(attempt))) is { } nothing) return terminal.Fail([nothing]);
            var next = NextExercises.Of(heard.Diagnosis, heard.Plan, pupil.Of(loaded.Value, result), pupil.Later(loaded.Value, result), new Tune(loaded.Value.Score.Title, loaded.Value.Part));
            if (!next.Succeeded) return terminal.Fail(next.Problems);
            terminal.Report(next.Problems);
            Tell(terminal, next.Value);
            if (result.GetValue(output) is not { } target || next.Value.Chosen.IsEmpty) return ExitCode.Done;
            var names = Names(target, next.Value.Chosen.Length);
            return Files.WouldReplace(names, result.GetValue(part)!, result.GetValue(take)!).ToList() is { Count: > 0 } clash ? terminal.Fail(clash) : Write(terminal, next.Value, names, pages.Look(result, Title(loaded.Value.Score.Title)));
        });
        return command;
    }

    private static bool IsPdf(string path) => path.EndsWith(".pdf", StringComparison.OrdinalIgnoreCase);

    private static void Tell(Terminal terminal, NextWork work)
    {
        terminal.Paragraph(work.Sentence);
        for (var i = 0; i < work.Chosen.Length; i++)
        {
            var e = work.Chosen[i].Exercise;
            terminal.Line();
            terminal.Paragraph($"{i + 1}. {e.Title} (level {e.Level}, about {e.Minutes:0} min)");
            terminal.Paragraph(e.Reason, 3);
            if (e.Demand.Length > 0) terminal.Paragraph(e.Demand, 3);
            foreach (var step in e.Practice) terminal.Paragraph($"- {step}", 3);
            terminal.Paragraph($"Quarter = {string.Join(", ", e.Tempos.Select(t => $"{t:0.#}"))}. {e.Rest}", 3);
        }
    }

    // A PDF holds all of them; of MusicXML each has a file.
    private static string[] Names(string target, int count)
    {
        if (count == 1 || IsPdf(target)) return [target];
        var stem = Path.Combine(Path.GetDirectoryName(target) ?? "", Path.GetFileNameWithoutExtension(target));
        return [.. Enumerable.Range(1, count).Select(i => $"{stem}-{i}.musicxml")];
    }

    private static int Write(Terminal terminal, NextWork work, string[] names, BookOptions look)
    {
        var exercises = work.Chosen.Select(c => c.Exercise).ToList();
        if (IsPdf(names[0])) return ExercisePages.Write(terminal, exercises, look, names[0]);
        for (var i = 0; i < exercises.Count; i++)
        {
            var exercise = exercises[i];
            Files.Write(names[i], stream => MusicXmlWriter.Write(exercise.Score, null, stream));
            terminal.Paragraph($"Written: {names[i]}");
        }

        return ExitCode.Done;
    }

    private static string Title(string piece) => piece.Length == 0 ? "After this take" : $"After {piece}";
}
