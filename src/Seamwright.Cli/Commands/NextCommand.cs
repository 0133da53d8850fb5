using System.CommandLine;
using Seamwright.Audio;
using Seamwright.Cli.Input;
using Seamwright.Core;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Exercises;
using Seamwright.Core.Scores.MusicXml;
using Seamwright.Engraving;
using Seamwright.Engraving.Engines;

namespace Seamwright.Cli.Commands;

/// <summary><c>seamwright next TAKE --part PART</c>: a take's three worst faults become the next exercises.</summary>
internal static class NextCommand
{
    public static Command Build(Terminal terminal)
    {
        var take = new FileArgument("TAKE", $"A recording of the part: {SoundFile.Kinds}.");
        var part = new FileOption<string>(FileUse.Read, "The MusicXML file that was played.", "--part") { Required = true };
        var options = new PlanOptions("--part-name");
        var pupil = new PupilOfPart();
        var output = CommonOptions.OutputFile("The exercises: .pdf, all in one, or .musicxml, a file each with its number.");
        output.Validators.Add(r =>
        {
            if (r.Tokens.Count == 1 && !(IsPdf(r.Tokens[0].Value) || r.Tokens[0].Value.EndsWith(".musicxml", StringComparison.OrdinalIgnoreCase)))
                r.AddError($"'{r.Tokens[0].Value}' does not end in .pdf or .musicxml, so the kind of file is not clear.");
        });
        var command = new Command("next", "Listen to a recording and make the exercises to practise next.") { take, part, output };
        pupil.AddTo(command);
        options.AddTo(command);
        command.SetAction(result =>
        {
            var loaded = options.Load(result.GetValue(part)!, result);
            var opened = SoundFile.Open(result.GetValue(take)!);
            using var sound = opened.Succeeded ? opened.Value : null;
            if (sound is null || !loaded.Succeeded) return terminal.Fail([.. loaded.Problems, .. opened.Problems]);
            terminal.Report(loaded.Problems);
            var heard = HeardTake.Of(sound, loaded.Value.Plan);
            terminal.Report(heard.Take.Problems);
            if (heard.Nothing(result.GetValue(take)!) is { } nothing) return terminal.Fail([nothing]);
            var next = NextExercises.Of(heard.Diagnosis, heard.Plan, pupil.Of(loaded.Value, result), pupil.Later(loaded.Value, result));
            if (!next.Succeeded) return terminal.Fail(next.Problems);
            terminal.Report(next.Problems);
            Tell(terminal, next.Value);
            if (result.GetValue(output) is not { } target || next.Value.Chosen.IsEmpty) return ExitCode.Done;
            var names = Names(target, next.Value.Chosen.Length);
            return Files.WouldReplace(names, result.GetValue(part)!, result.GetValue(take)!).ToList() is { Count: > 0 } clash ? terminal.Fail(clash) : Write(terminal, next.Value, names);
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

    private static int Write(Terminal terminal, NextWork work, string[] names)
    {
        var exercises = work.Chosen.Select(c => c.Exercise).ToList();
        if (IsPdf(names[0])) return Engrave(terminal, exercises, names[0]);
        for (var i = 0; i < exercises.Count; i++)
        {
            var exercise = exercises[i];
            Files.Write(names[i], stream => MusicXmlWriter.Write(exercise.Score, null, stream));
            terminal.Paragraph($"Written: {names[i]}");
        }

        return ExitCode.Done;
    }

    private static int Engrave(Terminal terminal, List<Exercise> exercises, string target)
    {
        try
        {
            using var engraver = Engravers.ForThisSystem();
            var maker = new SheetMaker(engraver);
            var made = exercises.ConvertAll(e => maker.Make(e.Score, e.Part, e.Plan, new SheetOptions { QuartersPerMinute = e.Tempos[0] }));
            if (made.Find(m => !m.Succeeded) is { } failed) return terminal.Fail(failed.Problems);
            Files.Write(target, stream => EngravedSheet.WritePdf([.. made.Select(m => m.Value)], "Next exercises", stream));
            terminal.Paragraph($"Exercises written to {target}.");
            return ExitCode.Done;
        }
        catch (EngravingException e)
        {
            return terminal.Fail([new Problem("engraving", e.Message, "Without -o, or with a name that ends in .musicxml, no engraver is needed.", Severity.Error)]);
        }
    }
}
