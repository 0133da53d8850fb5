using System.CommandLine;
using Seamwright.Cli.Input;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;

namespace Seamwright.Cli.Commands;

/// <summary><c>seamwright plan PART</c>: a slide setting for every note and the kind of every change.</summary>
internal static class PlanCommand
{
    public static Command Build(Terminal terminal)
    {
        var file = new FileArgument("PART", $"The part: {AnyScore.Kinds}.");
        var options = new PlanOptions();
        var json = CommonOptions.Json();
        var output = CommonOptions.OutputFile("Write the plan to a file instead of the screen (JSON if it ends in .json).");
        var command = new Command("plan", "Choose a slide setting for every note and say how each change is joined.") { file, json, output };
        options.AddTo(command);
        command.SetAction(result =>
        {
            var loaded = options.Load(result.GetValue(file)!, result);
            if (!loaded.Succeeded) return terminal.Fail(loaded.Problems);
            var target = result.GetValue(output);
            var asJson = result.GetValue(json) || target?.EndsWith(".json", StringComparison.OrdinalIgnoreCase) == true;
            terminal.Report(loaded.Problems);
            Write(terminal, loaded.Value.Plan, asJson, target);
            return ExitCode.Done;
        });
        return command;
    }

    private static void Write(Terminal terminal, Plan plan, bool asJson, string? target)
    {
        if (target is null && asJson) JsonOutput.Write(terminal, stream => PlanJson.Write(plan, stream));
        else if (target is null) PlanText.Write(terminal, plan);
        else if (asJson) Files.Write(target, stream => PlanJson.Write(plan, stream));
        else Files.Write(target, stream => WriteText(stream, plan));
        if (target is not null) terminal.Line($"Plan written to {target}.");
    }

    private static void WriteText(Stream stream, Plan plan)
    {
        using var writer = new StreamWriter(stream, leaveOpen: true);
        PlanText.Write(new Terminal(writer, TextWriter.Null, 80), plan);
    }
}

/// <summary>A plan for reading at a terminal.</summary>
internal static class PlanText
{
    public static void Write(Terminal terminal, Plan plan)
    {
        var tempo = plan.Line.Tempo.Marks[0].QuartersPerMinute;
        terminal.Line($"{(plan.Line.Title.Length > 0 ? plan.Line.Title : "Untitled")}: {plan.Notes.Length} notes on {plan.Instrument.Id}, quarter = {tempo:0.#}");
        terminal.Table(["#", "bar", "beat", "note", "play", "then", "arm cm", "touch ms", "hard"], plan.Notes.Select(n => Row(plan, n)), 0, 1, 6, 7, 8);
        terminal.Paragraph("'then' is the change into the next note; 'arm cm' + is out, − in; 'touch ms' is the middle of the tongue's touch, − before the next note; 'hard' runs from 0 to 1.");
        WriteCounts(terminal, plan);
        WriteHardest(terminal, plan);
    }

    /// <summary>How many changes there are of each kind.</summary>
    public static void WriteCounts(Terminal terminal, Plan plan)
    {
        var counts = plan.Changes.GroupBy(c => c.Kind).OrderBy(g => g.Key).Select(g => $"{g.Count()} {g.Key.WireName()}");
        terminal.Paragraph($"Changes: {string.Join(", ", counts)}.");
    }

    /// <summary>The hardest changes, at most five different ones.</summary>
    public static void WriteHardest(Terminal terminal, Plan plan)
    {
        var hardest = plan.Hardest.DistinctBy(c => c.Reason).Take(5).ToList();
        if (hardest.Count == 0) return;
        terminal.Line("Hardest changes:");
        foreach (var change in hardest)
        {
            var note = plan.Notes[change.ToNote].Note;
            terminal.Paragraph($"  bar {note.Bar}, beat {note.Beat.ToDouble():0.##} ({change.Difficulty:0.00}, {change.PeakSpeed:0.0} m/s) {change.Reason}", 4);
        }
    }

    private static IReadOnlyList<string> Row(Plan plan, PlannedNote planned)
    {
        var note = planned.Note;
        var change = note.Index < plan.Changes.Length ? plan.Changes[note.Index] : null;
        return
        [
            $"{note.Index}",
            note.Bar,
            $"{note.Beat.ToDouble():0.##}",
            note.Pitch.ToDisplay(),
            planned.Setting?.Label ?? "none",
            change?.Kind.WireName() ?? "",
            change is { SlideMotion: not SlideMotion.Still, Travel: { } travel } ? $"{travel.Value:+0.0;-0.0}" : "",
            change is { Kind: ChangeKind.SoftTongue, TongueOffset: { } touch } ? $"{touch.Milliseconds:0}" : "",
            change is { Difficulty: > 0 } ? $"{change.Difficulty:0.00}" : "",
        ];
    }
}
