using System.CommandLine;
using Seamwright.Cli.Input;
using Seamwright.Core;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Sound.Loudness;
using Seamwright.Core.Sound.PlayAlong;
using Seamwright.Engraving;
using Seamwright.Engraving.Engines;
using Seamwright.Film;

namespace Seamwright.Cli.Commands;

/// <summary><c>seamwright film</c>: a film for the music stand.</summary>
internal static class FilmCommand
{
    public static Command Build(Terminal terminal)
    {
        var file = new FileArgument("PART", $"The part: {AnyScore.Kinds}.");
        var options = new PlanOptions();
        var playAlong = new PlayAlongInput("example", "none");
        var output = CommonOptions.OutputFile("Where the film goes (.mp4). Default: the part's name with .mp4.");
        output.Validators.Add(r =>
        {
            if (r.Tokens is [{ Value.Length: > 0 }] && !r.Tokens[0].Value.EndsWith(".mp4", StringComparison.OrdinalIgnoreCase))
                r.AddError($"'{r.Tokens[0].Value}' does not end in .mp4: films are written as MP4.");
        });
        var (clef, syllable) = (SheetLook.ClefOption(), SheetLook.SyllableOption());
        var command = new Command("film", "Make a film for the stand: the sheet with a cursor, the slide as it moves, the sound; as a play-along too.") { file, output, clef, syllable };
        playAlong.AddTo(command, options);
        options.AddTo(command);
        command.SetAction((result, cancel) => Task.Run(
            () =>
            {
                var source = result.GetValue(file)!;
                var target = result.GetValue(output) ?? Path.ChangeExtension(Path.GetFileName(source), ".mp4");
                if (Files.WouldReplace([target], source).ToList() is { Count: > 0 } clash) return terminal.Fail(clash);
                var loaded = options.Load(source, result);
                if (!loaded.Succeeded) return terminal.Fail(loaded.Problems);
                var schedule = playAlong.Schedule(result, loaded.Value);
                if (!schedule.Succeeded) return terminal.Fail(schedule.Problems);
                terminal.Report(schedule.Problems);
                var look = new SheetOptions { Clef = SheetLook.Clef(result.GetValue(clef)!), Syllable = result.GetValue(syllable)!, QuartersPerMinute = TempoOnSheet(options.TempoAsked(result), loaded.Value, schedule.Value) };
                return Make(terminal, loaded.Value, schedule.Value, look, target, cancel);
            },
            CancellationToken.None));
        return command;
    }

    // The sheet says the tempo that is played where it is one; on a ladder only the head of the screen can.
    private static double? TempoOnSheet(double? asked, PlannedSheet sheet, Schedule schedule) =>
        schedule.Rounds.All(r => r.Tempo == schedule.Rounds[0].Tempo) && schedule.Rounds[0].Tempo != sheet.Plan.Line.Tempo.Marks[0].QuartersPerMinute ? schedule.Rounds[0].Tempo : asked;

    private static int Make(Terminal terminal, PlannedSheet sheet, Schedule schedule, SheetOptions look, string target, CancellationToken cancel)
    {
        try
        {
            using var engraver = Engravers.ForThisSystem();
            var levelled = Leveller.Level(PlayAlongMaker.Sound(schedule), cancel: cancel);
            terminal.Report(levelled.Remarks);
            var request = new FilmRequest(sheet.Part, schedule.Rounds[0].Plan, FilmSound.Of(schedule, levelled.Sound), look);
            using var progress = new ProgressLine(terminal, "film");
            var made = new FilmMaker(engraver).Make(request, target, progress.Show, cancel);
            progress.Dispose();
            if (!made.Succeeded) return terminal.Fail(made.Problems);
            terminal.Report(made.Problems);
            terminal.Paragraph(FormattableString.Invariant($"A film of {made.Value.Duration.Value:0.0} s written to {target}."));
            return ExitCode.Done;
        }
        catch (EngravingException e)
        {
            return terminal.Fail([new Problem("engraving", e.Message, "", Severity.Error)]);
        }
        catch (OperationCanceledException)
        {
            return terminal.Fail([new Problem(target, "was not made: you stopped it.", "", Severity.Error)]);
        }
    }
}
