using System.CommandLine;
using System.Globalization;
using System.Text.Json;
using Seamwright.Audio;
using Seamwright.Cli.Input;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores.MusicXml;
using Seamwright.Core.Sound;
using Seamwright.Engraving;

namespace Seamwright.Cli.Commands;

/// <summary><c>seamwright demo</c>: the whole job on an invented tune and an invented player.</summary>
internal static class DemoCommand
{
    public static Command Build(Terminal terminal, TimeProvider clock)
    {
        var output = CommonOptions.OutputFolder("The folder the results go to. Default demo-out.");
        var command = new Command("demo", "Plan, print, play with known faults, and hear an invented tune.") { output };
        command.SetAction(result => Run(terminal, result.GetValue(output) ?? "demo-out", clock));
        return command;
    }

    private static int Run(Terminal terminal, string folder, TimeProvider clock)
    {
        var tune = Path.Combine(AppContext.BaseDirectory, "Melodies", "evening-ferry.musicxml");
        var score = Files.Read(tune, (stream, name) => MusicXmlReader.Read(stream, name));
        if (!score.Succeeded) return terminal.Fail(score.Problems);
        var made = PlannedSheet.Make(score.Value, Catalogue.Default, null, null, null, new PlanSettings(), score.Problems);
        if (!made.Succeeded) return terminal.Fail(made.Problems);
        var plan = made.Value.Plan;
        Files.MakeFolder(folder);
        Files.Write(Path.Combine(folder, Path.GetFileName(tune)), stream => stream.Write(File.ReadAllBytes(tune)));

        terminal.Paragraph($"Demo: \"{plan.Line.Title}\", a tune and a player invented for Seamwright, on a {plan.Instrument.Name}.");
        terminal.Line();
        terminal.Paragraph($"1. Planned {plan.Notes.Length} notes (repeats played).", 3);
        PlanText.WriteCounts(terminal, plan);
        var hardest = plan.Hardest.First();
        terminal.Paragraph($"Hardest: bar {plan.Notes[hardest.ToNote].Note.Bar}. {hardest.Reason}");
        Files.Write(Path.Combine(folder, "plan.json"), stream => PlanJson.Write(plan, stream));

        terminal.Line();
        terminal.Line("2. Engraved the sheet: positions above, the kind of each change below.");
        var code = SheetCommand.WriteSheet(terminal, made.Value, new SheetOptions(), Path.Combine(folder, "sheet.pdf"), clock);
        if (code != ExitCode.Done) return code;

        var faults = DemoFaults.In(plan);
        terminal.Line();
        terminal.Paragraph($"3. Let an invented player record it, with {faults.Count} known faults among {plan.Changes.Length} changes.", 3);
        var sound = Voice.Render(plan, Playing.WithFaults(plan, faults));
        Files.Write(Path.Combine(folder, "take.wav"), stream => WavFile.Write(stream, new Recording(sound.Samples, sound.Rate)));

        terminal.Line();
        terminal.Line("4. Listened to that recording, knowing only the part:");
        var read = SoundFile.Open(Path.Combine(folder, "take.wav"));
        if (!read.Succeeded) return terminal.Fail(read.Problems);
        using var take = read.Value;
        var heard = HeardTake.Of(take, plan);
        Files.Write(Path.Combine(folder, "diagnosis.json"), heard.WriteJson);
        Files.Write(Path.Combine(folder, "diagnosis.txt"), heard.WriteText);
        foreach (var report in new[] { "report.html", "report.pdf" }) terminal.Report(new ReportFile(Path.Combine(folder, report), "take.wav").Write(heard, made.Value));
        Files.Write(Path.Combine(folder, "known-faults.json"), stream => WriteKnown(stream, plan, faults, sound.Truth));
        WriteComparison(terminal, plan, faults, heard, sound.Truth);

        terminal.Line();
        terminal.Paragraph($"Results in {folder}: {Path.GetFileName(tune)}, sheet.pdf, plan.json, take.wav, diagnosis.txt, diagnosis.json, report.html, report.pdf, known-faults.json.");
        return ExitCode.Done;
    }

    private static void WriteComparison(
        Terminal terminal, Plan plan, IReadOnlyDictionary<int, Fault> faults, HeardTake heard, TakeTruth truth)
    {
        terminal.Table(
            ["bar", "played", "glide ms", "dip dB", "tongue ms", "heard"],
            faults.OrderBy(f => f.Key).Select(f => Row(plan, f.Key, f.Value, heard, truth)),
            2, 3, 4);
        terminal.Paragraph("Figures: known → measured. Notes found: " + $"{heard.Take.Notes.Count(n => n.Found)} of {plan.Notes.Length}. {WrongAlarms(plan, faults, heard)}");
    }

    private static IReadOnlyList<string> Row(Plan plan, int index, Fault fault, HeardTake heard, TakeTruth truth)
    {
        var change = plan.Changes[index];
        var (known, measured) = (truth.Changes[index], heard.Take.Changes[index]);
        var verdicts = heard.Diagnosis.Changes[index].Verdicts.Concat(heard.Diagnosis.Notes[change.ToNote].Verdicts).Where(v => v != Verdict.Clean);
        return
        [
            plan.Notes[change.ToNote].Note.Bar,
            Words(fault),
            Pair(known.Glide?.Milliseconds, measured.Glide?.Milliseconds, "0"),
            Pair(known.Dip?.Value, measured.Dip?.Value, "0.0"),
            Pair(known.TongueOffset?.Milliseconds, measured.TongueOffset?.Milliseconds, "0"),
            string.Join(", ", verdicts.Select(v => v.WireName()).Distinct().DefaultIfEmpty("clean")),
        ];
    }

    private static string WrongAlarms(Plan plan, IReadOnlyDictionary<int, Fault> faults, HeardTake heard)
    {
        var clean = plan.Changes.Where(c => !faults.ContainsKey(c.Index)).ToList();
        var blamed = clean.Count(c => heard.Diagnosis.Changes[c.Index].Verdicts.Any(v => v is not (Verdict.Clean or Verdict.CannotTell)));
        return $"Of the {clean.Count} clean changes, {blamed} were blamed.";
    }

    private static string Pair(double? known, double? measured, string format) =>
        $"{known?.ToString(format, CultureInfo.InvariantCulture) ?? "–"} → {measured?.ToString(format, CultureInfo.InvariantCulture) ?? "–"}";

    private static string Words(Fault fault) => fault switch
    {
        Fault.Smeared => "smeared",
        Fault.LateTongue => "late tongue",
        Fault.EarlyTongue => "early tongue",
        Fault.HardTongue => "hard tongue",
        Fault.StoppedAir => "air stopped",
        Fault.NoTongue => "no tongue",
        Fault.Cracked => "cracked",
        Fault.OutOfTune => "note sharp",
        _ => "clean",
    };

    private static void WriteKnown(Stream stream, Plan plan, IReadOnlyDictionary<int, Fault> faults, TakeTruth truth)
    {
        using var json = new Utf8JsonWriter(stream, new JsonWriterOptions { Indented = true });
        json.WriteStartObject();
        json.WriteString("about", "What the invented player of take.wav did on purpose; made by Seamwright, no real recording.");
        json.WriteStartArray("changes");
        foreach (var change in truth.Changes)
        {
            json.WriteStartObject();
            json.WriteNumber("index", change.Index);
            json.WriteString("kind", plan.Changes[change.Index].Kind.WireName());
            json.WriteString("played", Words(faults.GetValueOrDefault(change.Index)));
            json.WriteBoolean("onePartial", change.GlideSemitones is not null);
            Number("glideMs", change.Glide?.Milliseconds);
            Number("glideCentre", change.GlideCentre?.Value);
            Number("dipDb", change.Dip?.Value);
            Number("dipWidthMs", change.DipWidth?.Milliseconds);
            Number("dipCentre", change.DipCentre?.Value);
            Number("tongueOffsetMs", change.TongueOffset?.Milliseconds);
            Number("gapMs", change.Gap?.Milliseconds);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();

        void Number(string name, double? value)
        {
            if (value is { } v) json.WriteNumber(name, Math.Round(v, 4));
        }
    }
}
