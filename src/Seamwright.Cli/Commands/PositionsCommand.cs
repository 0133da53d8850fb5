using System.CommandLine;
using Seamwright.Cli.Input;
using Seamwright.Core.Instruments;
using Seamwright.Core.Units;

namespace Seamwright.Cli.Commands;

/// <summary><c>seamwright positions Bb3</c>: every way to play one note.</summary>
internal static class PositionsCommand
{
    public static Command Build(Terminal terminal)
    {
        var pitch = new Argument<string>("pitch") { Description = "Concert pitch, for instance Bb3 or F#4 (middle C is C4)." };
        pitch.Validators.Add(r =>
        {
            if (!Pitch.TryParse(r.GetValueOrDefault<string>(), out _)) r.AddError($"'{r.GetValueOrDefault<string>()}' is not a pitch such as Bb3 or F#4.");
        });
        var instrument = InstrumentOption.WithDefault();
        var json = CommonOptions.Json();
        var command = new Command("positions", "Every slide setting that plays a note.") { pitch, instrument, json };
        command.SetAction(result =>
        {
            var found = InstrumentOption.Load(result.GetValue(instrument)!);
            if (!found.Succeeded) return terminal.Fail(found.Problems);
            var note = Pitch.Parse(result.GetValue(pitch)!);
            var settings = found.Value.SettingsFor(note);
            if (result.GetValue(json)) JsonOutput.Write(terminal, stream => InstrumentJson.WriteSettings(found.Value, note, settings, stream));
            else Write(terminal, found.Value, note, [.. settings]);
            return ExitCode.Done;
        });
        return command;
    }

    private static void Write(Terminal terminal, Instrument instrument, Pitch note, SlideSetting[] settings)
    {
        terminal.Line($"{note.ToDisplay()} on {instrument.Name}: {note.Frequency(instrument.A4)}");
        if (settings.Length == 0)
        {
            var (low, high) = instrument.Range();
            terminal.Paragraph($"No setting plays it. The instrument reaches {low.ToDisplay()} to {high.ToDisplay()}{(note > low && note < high ? ", with gaps" : "")}.");
            return;
        }

        var usual = instrument.UsualSetting(note);
        terminal.Table(
            ["play", "tube", "partial", "position", "slide cm", "corrects", "stays off", ""],
            settings.Select(s => Row(s, s.Equals(usual))),
            2, 3, 4, 5, 6);
        terminal.Paragraph("♭ further out, ♯ further in than the plain position. 'corrects' is what the slide takes from the partial's own error; 'stays off' is what it cannot reach, for the lips to help. Cents, + is sharp.");
    }

    private static IReadOnlyList<string> Row(SlideSetting s, bool usual) =>
    [
        s.Label,
        s.Side.Label.Length == 0 ? "open" : string.Join("+", s.Valves),
        $"{s.Partial}",
        $"{s.Position:0.0}",
        $"{s.Travel.Value:0.0}",
        Math.Abs(s.Correction.Value) < 0.05 ? "–" : $"{s.Correction.Value:+0.0;-0.0}",
        Math.Abs(s.Residual.Value) < 0.05 ? "–" : $"{s.Residual.Value:+0.0;-0.0}",
        usual ? "usual" : "",
    ];
}
