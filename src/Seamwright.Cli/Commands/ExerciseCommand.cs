using System.CommandLine;
using Seamwright.Audio.Writing;
using Seamwright.Cli.Input;
using Seamwright.Core;
using Seamwright.Core.Exercises;
using Seamwright.Core.Units;
using Seamwright.Engraving;
using Seamwright.Pack;

namespace Seamwright.Cli.Commands;

/// <summary><c>seamwright exercise KIND -o out.pdf</c>: exercises of one kind, on paper, as MusicXML or as sound.</summary>
internal static class ExerciseCommand
{
    private static readonly string[] Endings = [".pdf", ".musicxml", .. SoundFileWriter.Endings.Split([' ', ','], StringSplitOptions.RemoveEmptyEntries).Where(e => e.StartsWith('.'))];

    public static Command Build(Terminal terminal)
    {
        var kind = new Argument<string?>("KIND") { Description = "Which exercise; without it the kinds are listed.", Arity = ArgumentArity.ZeroOrOne };
        kind.AcceptOnlyFromAmong([.. ExerciseMaker.Kinds.Select(k => k.Name)]);
        var list = new Option<bool>("--list") { Description = "List the kinds." };
        var (order, pupil) = (new OrderOptions(), new PupilOptions());
        var output = CommonOptions.OutputFile($"Where it goes: {string.Join(", ", Endings)}; several exercises make one PDF, and numbered files of the other kinds. Default: the kind's name with .pdf.");
        output.Validators.Add(r =>
        {
            if (r.Tokens.Count == 1 && !Endings.Contains(Path.GetExtension(r.Tokens[0].Value).ToLowerInvariant()))
                r.AddError($"'{r.Tokens[0].Value}' does not end in {string.Join(", ", Endings)}, so the kind of file is not clear.");
        });
        var pages = new ExercisePages();
        var command = new Command("exercise", "Make exercises for an instrument, a range and an arm.") { kind, list, output };
        pages.AddTo(command);
        order.AddTo(command);
        pupil.AddTo(command);
        command.SetAction(result =>
        {
            if (result.GetValue(kind) is not { } name || result.GetValue(list)) return List(terminal);
            var player = pupil.Pupil(result);
            if (!player.Succeeded) return terminal.Fail(player.Problems);
            var ordered = order.Order(result, name, player.Value.Instrument);
            if (!ordered.Succeeded) return terminal.Fail(ordered.Problems);
            if (ExerciseMaker.Check(ordered.Value) is { IsEmpty: false } wrong) return WrongUsage(terminal, wrong, name);
            terminal.Report(ordered.Problems);
            var made = ExerciseMaker.Make(ordered.Value, player.Value);
            if (!made.Succeeded) return terminal.Fail(made.Problems);
            terminal.Report(made.Problems);
            var target = result.GetValue(output) ?? $"{name}.pdf";
            var code = Write(terminal, made.Value.Exercises, player.Value, pages.Look(result), target);
            if (code == ExitCode.Done) ExerciseText.Write(terminal, made.Value.Exercises, player.Value);
            return code;
        });
        return command;
    }

    private static int List(Terminal terminal)
    {
        terminal.Table(["kind", "what it is"], ExerciseMaker.Kinds.Select(k => (IReadOnlyList<string>)[k.Name, $"{k.Summary} ({string.Join(" ", k.Uses.Append(nameof(ExerciseOrder.Tempos)).Select(OptionOf))})"]));
        return ExitCode.Done;
    }

    // In the options' own names: what an order calls a member, a command line calls an option.
    private static int WrongUsage(Terminal terminal, IEnumerable<Problem> wrong, string kind)
    {
        var uses = ExerciseMaker.Find(kind)!.Uses.Append(nameof(ExerciseOrder.Tempos)).Select(OptionOf).ToList();
        terminal.Report(wrong.Select(p => p with { Where = OptionOf(p.Where), Hint = uses.Contains(OptionOf(p.Where)) ? p.Hint : $"It uses: {string.Join(", ", uses)}." }));
        terminal.Complaint("See 'seamwright exercise --help'.");
        return ExitCode.WrongUsage;
    }

    private static string OptionOf(string member) => member.Equals(nameof(ExerciseOrder.Keys), StringComparison.OrdinalIgnoreCase) ? "--key" : "--" + member.ToLowerInvariant();

    private static int Write(Terminal terminal, IReadOnlyList<Exercise> exercises, Pupil pupil, BookOptions look, string target)
    {
        var ending = Path.GetExtension(target).ToLowerInvariant();
        if (ending == ".pdf") return ExercisePages.Write(terminal, exercises, look, target);
        var names = ExerciseFiles.Names(target, exercises);
        using var progress = new ProgressLine(terminal, "Writing");
        for (var i = 0; i < names.Count; i++)
        {
            var exercise = exercises[i];
            if (ending == ".musicxml") Files.Write(names[i], stream => ExerciseFiles.WriteMusicXml(exercise, stream));
            else if (ExerciseFiles.WriteSound(exercise, pupil.Settings, names[i]) is { Succeeded: false } failed) return terminal.Fail(failed.Problems);
            progress.Show((i + 1.0) / names.Count);
        }

        foreach (var name in names) terminal.Line($"Written: {name}");
        return ExitCode.Done;
    }
}

/// <summary>What was made, for a terminal.</summary>
internal static class ExerciseText
{
    public static void Write(Terminal terminal, IReadOnlyList<Exercise> exercises, Pupil pupil)
    {
        terminal.Paragraph($"For {pupil.Instrument.Id}, {pupil.Naming.Of(pupil.Lowest)} to {pupil.Naming.Of(pupil.Highest)}{(pupil.Clef == Clef.TrebleBb ? " as written in treble clef in B♭" : "")}:");
        terminal.Table(["#", "level", "minutes", "notes", "exercise"], exercises.Select((e, i) => (IReadOnlyList<string>)
        [
            $"{i + 1}",
            $"{e.Level}",
            $"{e.Minutes:0}",
            e.RangeWords,
            string.Join(" ", new[] { e.Reason.Length + e.Demand.Length > 0 ? $"{e.Title}." : e.Title, e.Reason, e.Demand }.Where(t => t.Length > 0)),
        ]), 0, 1, 2);
    }
}
