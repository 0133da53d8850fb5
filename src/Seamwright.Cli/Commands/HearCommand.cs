using System.CommandLine;
using Seamwright.Audio;
using Seamwright.Cli.Input;
using Seamwright.Core;
using Seamwright.Core.Scores;
using Seamwright.Engraving;

namespace Seamwright.Cli.Commands;

/// <summary><c>seamwright hear TAKE [--part PART]</c>: a diagnosis of a recording.</summary>
internal static class HearCommand
{
    public static Command Build(Terminal terminal)
    {
        var take = new FileArgument("TAKE", $"A recording of the part: {SoundFile.Kinds}.");
        var part = new FileOption<string>(FileUse.Read, $"The part that was played: {AnyScore.Kinds}. Without it, what needs no part is told.", "--part");
        var options = new PlanOptions("--part-name");
        var attempt = CommonOptions.Attempt();
        var json = CommonOptions.Json();
        var report = new FileOption<string[]>(FileUse.Written, "Also write a report for the pupil: .html for a screen, .pdf for paper (repeatable). It needs --part.", "--report");
        report.Validators.Add(r =>
        {
            foreach (var token in r.Tokens.Where(t => !ReportFile.Names(t.Value))) r.AddError($"'{token.Value}' does not end in .html or .pdf, so the kind of report is not clear.");
        });
        var pupil = new Option<string>("--for") { Description = "Print a pupil's name on the report; it is stored nowhere else.", DefaultValueFactory = _ => "", HelpName = "NAME" };
        var paper = CommonOptions.Choice("--paper", "Paper of a PDF report", "a4", "a4", "letter");
        var track = new FileOption<string?>(FileUse.Written, "Also write pitch and level every 5 ms (CSV).", "--track");
        var output = CommonOptions.OutputFile("Write the diagnosis to a file instead of the screen (JSON if it ends in .json).");
        var command = new Command("hear", "Listen to a recording and say what to work on.") { take, part, attempt, json, report, pupil, paper, track, output };
        options.AddTo(command);
        command.Validators.Add(r =>
        {
            if (r.GetResult(report) is not null && r.GetResult(part) is null) r.AddError("A report page needs the part: name it with --part.");
            if (r.GetResult(attempt) is not null && r.GetResult(part) is null) r.AddError("Attempts are passes at a part: name it with --part.");
        });
        command.SetAction(result =>
        {
            var loaded = result.GetValue(part) is { } score ? options.Load(score, result) : null;
            var horn = loaded is null ? options.Instrument(result) : null;
            var opened = SoundFile.Open(result.GetValue(take)!);
            using var sound = opened.Succeeded ? opened.Value : null;
            if (sound is null || loaded is { Succeeded: false } || horn is { Succeeded: false })
                return terminal.Fail([.. loaded?.Problems ?? [], .. horn?.Problems ?? [], .. opened.Problems]);
            terminal.Report([.. loaded?.Problems ?? [], .. horn?.Problems ?? [], .. Idle(result, report, pupil, paper)]);
            var heard = loaded is { } sheet ? HeardTake.Of(sound, sheet.Value.Plan, result.GetValue(attempt), shown: result.GetResult(report) is not null || result.GetResult(track) is not null) : HeardTake.Of(sound, horn!.Value);
            if ((heard.Nothing(result.GetValue(take)!) ?? heard.NoSuchAttempt(result.GetValue(take)!, result.GetValue(attempt))) is { } nothing)
                return terminal.Fail([.. heard.Take.Problems, nothing]);

            // The text on the screen names them itself.
            if (result.GetValue(json) || result.GetValue(output) is not null) terminal.Report(heard.Take.Problems);
            var reports = result.GetValue(report) ?? [];
            var sheetPaper = result.GetValue(paper) == "letter" ? Paper.Letter : Paper.A4;
            foreach (var target in reports)
            {
                var problems = new ReportFile(target, Path.GetFileName(result.GetValue(take)!), result.GetValue(pupil)!, sheetPaper).Write(heard, loaded!.Value);
                terminal.Report(problems);
                if (problems.Any(p => p.Severity == Severity.Error)) return ExitCode.BadInput;
            }

            if (result.GetValue(track) is { } csv) heard.WriteTrack(csv);
            Write(terminal, heard, result.GetValue(json), result.GetValue(output));
            if (!result.GetValue(json)) foreach (var written in reports) terminal.Paragraph($"Report: {written}");
            return ExitCode.Done;
        });
        return command;
    }

    // Options that only a report obeys.
    private static IEnumerable<Problem> Idle(ParseResult result, Option report, params Option[] ofReport) => result.GetResult(report) is not null
        ? []
        : ofReport.Where(o => result.GetResult(o) is { Implicit: false }).Select(o => new Problem(o.Name, "is left unused, because no report is written.", "Name one with --report.", Severity.Note));

    private static void Write(Terminal terminal, HeardTake heard, bool asJson, string? target)
    {
        if (target is null && asJson) JsonOutput.Write(terminal, heard.WriteJson);
        else if (target is null) heard.WriteText(terminal.Output);
        else if (asJson || target.EndsWith(".json", StringComparison.OrdinalIgnoreCase)) Files.Write(target, heard.WriteJson);
        else Files.Write(target, heard.WriteText);
        if (target is not null) terminal.Paragraph($"Diagnosis written to {target}.");
    }
}
