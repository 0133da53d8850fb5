using System.CommandLine;
using Seamwright.Cli.Input;
using Seamwright.Core.Exercises;

namespace Seamwright.Cli.Commands;

/// <summary><c>seamwright keys PART</c>: in which keys a tune lies best, and why.</summary>
internal static class KeysCommand
{
    private const int Engraved = 3;

    public static Command Build(Terminal terminal)
    {
        var file = new FileArgument("PART", "A MusicXML file (.musicxml, .xml or .mxl).");
        var options = new PlanOptions();
        var pupil = new PupilOfPart();
        var count = CommonOptions.Whole("--count", "How many keys to tell, the best first. Default 5.", 1, 108);
        var every = new Option<bool>("--every-octave") { Description = "Weigh each key in every octave that fits, not in the nearest alone." };
        var json = CommonOptions.Json();
        var output = CommonOptions.OutputFile($"Also engrave the best {Engraved} as one PDF.");
        output.Validators.Add(r =>
        {
            if (r.Tokens.Count == 1 && !r.Tokens[0].Value.EndsWith(".pdf", StringComparison.OrdinalIgnoreCase)) r.AddError($"'{r.Tokens[0].Value}' does not end in .pdf; text and JSON go to the screen.");
        });
        var pages = new ExercisePages();
        var command = new Command("keys", "Find the keys in which a part lies best for the slide, with reasons.") { file, count, every, json, output };
        pages.AddTo(command);
        pupil.AddTo(command);
        options.AddTo(command);
        command.SetAction(result =>
        {
            var loaded = options.Load(result.GetValue(file)!, result);
            if (!loaded.Succeeded) return terminal.Fail(loaded.Problems);
            terminal.Report(loaded.Value.Reading);
            var who = pupil.Holding(loaded.Value, result);
            var ranking = KeyChoice.Rank(loaded.Value.Score.Title, loaded.Value.Part, who, options.TempoAsked(result), result.GetValue(every));
            if (!ranking.Succeeded) return terminal.Fail(ranking.Problems);
            var told = result.GetValue(count) ?? 5;
            var target = result.GetValue(output);
            if (Files.WouldReplace([target], result.GetValue(file)!).ToList() is { Count: > 0 } clash) return terminal.Fail(clash);
            if (result.GetValue(json)) JsonOutput.Write(terminal, stream => KeyJson.Write(loaded.Value.Score.Title, ranking.Value, told, stream));
            else Tell(terminal, ranking.Value, who, told);
            return target is null ? ExitCode.Done : ExercisePages.Write(result.GetValue(json) ? terminal.Quiet() : terminal, KeySheets.Of(loaded.Value.Score.Title, ranking.Value, who, Engraved), pages.Look(result, loaded.Value.Score.Title), target);
        });
        return command;
    }

    private static void Tell(Terminal terminal, KeyRanking ranking, Pupil pupil, int count)
    {
        terminal.Paragraph($"{ranking.Options.Length} keys lie within {pupil.Lowest.ToDisplay()} to {pupil.Highest.ToDisplay()} on {pupil.Instrument.Id}; a smaller score lies better.");
        terminal.Table(["#", "score", "key", "moved", "why"], ranking.Options.Take(count).Select((o, i) => (IReadOnlyList<string>)
            [$"{i + 1}", $"{o.Score.Total:0.00}", o.Key.ToDisplay(), KeyWords.Moved(o.Semitones), o.Reason]), 0, 1);
        if (ranking.Written is { } written) terminal.Paragraph($"As written, {written.Key.ToDisplay()} is number {ranking.Options.IndexOf(ranking.Options.First(o => o.Semitones == 0)) + 1} with {written.Score.Total:0.00}. {written.Reason}");
        else terminal.Paragraph("As written it lies outside this range.");
    }
}
