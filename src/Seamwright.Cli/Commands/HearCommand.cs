using System.CommandLine;
using Seamwright.Audio;
using Seamwright.Cli.Input;
using Seamwright.Core;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;

namespace Seamwright.Cli.Commands;

/// <summary><c>seamwright hear TAKE [--part PART]</c>: a diagnosis of a recording.</summary>
internal static class HearCommand
{
    public static Command Build(Terminal terminal)
    {
        var take = new Argument<string>("TAKE") { Description = $"A recording of the part: {SoundFile.Kinds}." };
        var part = new Option<string>("--part") { Description = "The MusicXML file that was played. Without it, what needs no part is told.", HelpName = "FILE" };
        var options = new PlanOptions("--part-name");
        var json = CommonOptions.Json();
        var report = new Option<string?>("--report") { Description = "Also write a report page (HTML).", HelpName = "FILE" };
        var track = new Option<string?>("--track") { Description = "Also write pitch and level every 5 ms (CSV).", HelpName = "FILE" };
        var output = CommonOptions.OutputFile("Write the diagnosis to a file instead of the screen (JSON if it ends in .json).");
        var command = new Command("hear", "Listen to a recording and say what to work on.") { take, part, json, report, track, output };
        options.AddTo(command);
        command.Validators.Add(r =>
        {
            if (r.GetValue(report) is not null && r.GetValue(part) is null) r.AddError("A report page needs the part: name it with --part.");
        });
        command.SetAction(result =>
        {
            if (Files.WouldReplace([result.GetValue(output), result.GetValue(report), result.GetValue(track)], [result.GetValue(take)!, .. result.GetValue(part) is { } read ? (string[])[read] : []]).ToList() is { Count: > 0 } clash)
                return terminal.Fail(clash);
            var recording = SoundFile.Read(result.GetValue(take)!);
            var hearing = result.GetValue(part) is { } score ? WithPart(recording, options.Load(score, result), terminal) : WithoutPart(recording, options.Instrument(result), terminal);
            if (hearing is not { } heard) return ExitCode.BadInput;
            terminal.Report(heard.Take.Problems.Except(recording.Problems));
            if (result.GetValue(report) is { } page) heard.WriteReport(page);
            if (result.GetValue(track) is { } csv) heard.WriteTrack(csv);
            Write(terminal, heard, result.GetValue(json), result.GetValue(output));
            if (result.GetValue(report) is { } written && !result.GetValue(json)) terminal.Paragraph($"Report page: {written}");
            return ExitCode.Done;
        });
        return command;
    }

    private static HeardTake? WithPart(Outcome<Recording> recording, Outcome<PlannedSheet> sheet, Terminal terminal)
    {
        if (!CanGoOn(recording, sheet, terminal)) return null;
        return HeardTake.Of(recording.Value, sheet.Value.Plan, recording.Problems);
    }

    private static HeardTake? WithoutPart(Outcome<Recording> recording, Outcome<Instrument> horn, Terminal terminal)
    {
        if (!CanGoOn(recording, horn, terminal)) return null;
        return HeardTake.Of(recording.Value, horn.Value, recording.Problems);
    }

    private static bool CanGoOn<T>(Outcome<Recording> recording, Outcome<T> asked, Terminal terminal)
        where T : class
    {
        var good = recording.Succeeded && asked.Succeeded;
        if (good) terminal.Report([.. asked.Problems, .. recording.Problems]);
        else terminal.Fail([.. asked.Problems, .. recording.Problems]);
        return good;
    }

    private static void Write(Terminal terminal, HeardTake heard, bool asJson, string? target)
    {
        if (target is null && asJson) JsonOutput.Write(terminal, heard.WriteJson);
        else if (target is null) heard.WriteText(terminal.Output);
        else if (asJson || target.EndsWith(".json", StringComparison.OrdinalIgnoreCase)) Files.Write(target, heard.WriteJson);
        else Files.Write(target, heard.WriteText);
        if (target is not null) terminal.Paragraph($"Diagnosis written to {target}.");
    }
}
