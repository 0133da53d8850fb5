using System.CommandLine;
using Seamwright.Audio.Writing;
using Seamwright.Cli.Input;
using Seamwright.Core;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Sound.PlayAlong;
using Seamwright.Pack;

namespace Seamwright.Cli.Commands;

/// <summary><c>seamwright sound PART -o out.wav</c>: a play-along.</summary>
internal static class SoundCommand
{
    public static Command Build(Terminal terminal)
    {
        var file = new FileArgument("PART", $"The part: {AnyScore.Kinds}.");
        var options = new PlanOptions();
        var playAlong = new PlayAlongInput("example-then-you", "throughout");
        var output = CommonOptions.OutputFile($"The sound: {SoundFileWriter.Endings}. Default: the part's name with .wav. A cue sheet (.cues.txt) and a time map (.time-map.json) are put beside it.");
        output.Validators.Add(r =>
        {
            if (r.Tokens is [{ Value.Length: > 0 }] && !SoundFileWriter.Endings.Split([' ', ','], StringSplitOptions.RemoveEmptyEntries).Contains(Path.GetExtension(r.Tokens[0].Value).ToLowerInvariant()))
                r.AddError($"'{r.Tokens[0].Value}' does not end in {SoundFileWriter.Endings}, so the kind of sound file is not clear.");
        });
        var command = new Command("sound", "Make a play-along: example, your turn, click, drone, chords.") { file, output };
        playAlong.AddTo(command, options);
        options.AddTo(command);
        command.SetAction(result =>
        {
            var source = result.GetValue(file)!;
            var target = PlayAlongFiles.Of(result.GetValue(output) ?? Path.ChangeExtension(Path.GetFileName(source), ".wav"));
            if (Files.WouldReplace([target.Sound, target.Cues, target.Map], source).ToList() is { Count: > 0 } clash) return terminal.Fail(clash);
            if (target.Guides.FirstOrDefault(Directory.Exists) is { } folder) return terminal.Fail([new Problem(folder, "cannot be written: it is a folder.", "Name another sound file, or move the folder.", Severity.Error)]);
            var loaded = options.Load(source, result);
            if (!loaded.Succeeded) return terminal.Fail(loaded.Problems);
            var schedule = playAlong.Schedule(result, loaded.Value);
            if (!schedule.Succeeded) return terminal.Fail(schedule.Problems);
            terminal.Report(schedule.Problems);
            return Write(terminal, schedule.Value, target);
        });
        return command;
    }

    // Everything is written whole before anything is put in its place.
    private static int Write(Terminal terminal, Schedule schedule, PlayAlongFiles target)
    {
        if (SoundFileWriter.Check(target.Sound) is { Count: > 0 } unwritable) return terminal.Fail(unwritable);
        var guides = target.PrepareGuides(schedule);
        try
        {
            var made = PlayAlongFile.Write(schedule, target.Sound);
            if (!made.Succeeded) return terminal.Fail(made.Problems);
            terminal.Report(made.Problems);
            foreach (var guide in guides) guide.Place();
            Tell(terminal, schedule, made.Value, target);
            return ExitCode.Done;
        }
        finally
        {
            foreach (var guide in guides) guide.Dispose();
        }
    }

    private static void Tell(Terminal terminal, Schedule schedule, PlayAlongFile made, PlayAlongFiles target)
    {
        var plan = schedule.Rounds[0].Plan;
        var first = schedule.Sections.Count(s => s.Round == 1 && s.Kind is SectionKind.You);
        terminal.Paragraph($"\"{plan.Line.Title}\" in {CueSheet.KeyOf(plan)} on {plan.Instrument.Id}, {Parts(schedule, first)}{Beside(schedule, plan)}.");
        terminal.Table(["round", "quarter =", "begins"], schedule.Rounds.Select((r, i) => (IReadOnlyList<string>)[$"{i + 1}", $"{r.Tempo:0.##}", CueSheet.Clock(schedule, r.Start)]), 0, 1, 2);
        var loudness = made.Loudness.Integrated is { } l ? $"{l}, highest peak {made.Loudness.Peak}" : "silent";
        terminal.Paragraph($"{made.Written.Format}, {CueSheet.Clock(schedule, schedule.WithRing)}, {loudness}: {target.Sound}");
        terminal.Paragraph($"Cue sheet: {target.Cues}");
        terminal.Paragraph($"Time map: {target.Map}");
    }

    private static string Beside(Schedule schedule, Plan plan)
    {
        var settings = schedule.Settings;
        List<string> heard = [];
        if (settings.Click != ClickUse.None) heard.Add(settings.Click == ClickUse.Throughout ? "click" : "click in the count-in");
        if (settings.Drone != DroneNotes.None) heard.Add("drone");
        if (settings.Chords && !plan.Line.Chords.IsEmpty) heard.Add("chords");
        var with = heard.Count == 0 ? "" : $", with {string.Join(", ", heard)}";
        return settings.Room is { } room ? $"{with}, in a room: {room.Name}" : with;
    }

    private static string Parts(Schedule schedule, int phrases) => schedule.Settings.Turns switch
    {
        Turns.ExampleOnly => "the example all through",
        Turns.YouOnly => "without an example",
        _ => phrases == 1 ? "one phrase, example then you" : $"{phrases} phrases, each example then you",
    };
}
