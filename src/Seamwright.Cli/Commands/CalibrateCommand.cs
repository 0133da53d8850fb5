using System.CommandLine;
using Seamwright.Audio;
using Seamwright.Cli.Input;
using Seamwright.Core.Calibration;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening.Free;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Cli.Commands;

/// <summary><c>seamwright calibrate TAKE</c>: the player's own instrument, read from a recording.</summary>
internal static class CalibrateCommand
{
    public static Command Build(Terminal terminal)
    {
        var take = new FileArgument("TAKE", $"A recording of lip slurs in 1st position and a slow chromatic scale: {SoundFile.Kinds}.");
        var part = new FileOption<string>(FileUse.Read, $"The exercise sheet that was played: {AnyScore.Kinds}. Without it, the exercises are recognised.", "--part");
        var options = new PlanOptions("--part-name");
        var length = CommonOptions.Number("--length-cm", "Effective length of the open horn, slide closed, if it is known, in cm.", 50, 1000);
        var seventh = CommonOptions.Number("--seventh-cm", "How far out your 7th position is, measured with a ruler, in cm.", 10, 150);
        var json = CommonOptions.Json();
        var output = CommonOptions.OutputFile("Write the calibrated instrument to this JSON file.");
        var command = new Command("calibrate", "Read tuning, partials and slide of your own horn from a recording.") { take, part, length, seventh, json, output };
        options.AddTo(command);
        command.Validators.Add(r =>
        {
            if (r.GetResult(length) is not null && r.GetResult(seventh) is not null) r.AddError("Give --length-cm or --seventh-cm, not both: each fixes the other.");
        });
        command.SetAction(result =>
        {
            var horn = options.Instrument(result);
            var sheet = result.GetValue(part) is { } score ? options.Load(score, result) : null;
            var opened = SoundFile.Open(result.GetValue(take)!);
            using var sound = opened.Succeeded ? opened.Value : null;
            if (sound is null || !horn.Succeeded || sheet is { Succeeded: false })
                return terminal.Fail([.. horn.Problems, .. sheet?.Problems ?? [], .. opened.Problems]);
            var settings = new CalibrationSettings { MeasuredLength = Cm(result.GetValue(length)), MeasuredSeventh = Cm(result.GetValue(seventh)) };
            var heard = sheet is { } s ? HeardTake.Of(sound, s.Value.Plan, shown: false) : HeardTake.Of(sound, horn.Value);
            var found = sheet is null ? Calibrator.Calibrate(new FreeTake(heard.Plan, heard.Take), horn.Value, settings) : Calibrator.Calibrate(heard.Take, heard.Plan, settings);
            terminal.Report(sound.Problems);
            if (!found.Succeeded) return terminal.Fail(found.Problems);
            Show(terminal, found.Value, result.GetValue(json), result.GetValue(output));
            return ExitCode.Done;
        });
        return command;
    }

    private static Centimetres? Cm(double? value) => value is { } cm ? new Centimetres(cm) : null;

    private static void Show(Terminal terminal, CalibrationResult found, bool asJson, string? target)
    {
        if (target is not null) Files.Write(target, stream => InstrumentFile.Write(Named(found, target), stream));
        if (asJson)
        {
            JsonOutput.Write(terminal, stream => CalibrationJson.Write(found, stream));
            return;
        }

        CalibrationText.Write(found, terminal.Output);
        terminal.Line();
        terminal.Paragraph(target is null ? "Nothing was written: name a file with -o." : $"Instrument written to {target}. Use it wherever --instrument is asked for.");
    }

    // An instrument of the catalogue keeps its id to itself.
    private static Instrument Named(CalibrationResult found, string target) => Catalogue.Ids.Contains(found.After.Id)
        ? found.After with { Id = Path.GetFileNameWithoutExtension(target), Name = $"{found.After.Name}, calibrated" }
        : found.After;
}
