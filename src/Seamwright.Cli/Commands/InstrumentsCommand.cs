using System.CommandLine;
using Seamwright.Cli.Input;
using Seamwright.Core.Instruments;

namespace Seamwright.Cli.Commands;

/// <summary><c>seamwright instruments</c>: the catalogue, or one instrument's tubes.</summary>
internal static class InstrumentsCommand
{
    public static Command Build(Terminal terminal)
    {
        var instrument = InstrumentOption.Optional();
        var json = CommonOptions.Json();
        var command = new Command("instruments", "List the trombones known here, or show the tubes of one.") { instrument, json };
        command.SetAction(result =>
        {
            var asked = result.GetValue(instrument);
            var found = asked is null ? null : InstrumentOption.Load(asked);
            if (found is { Succeeded: false }) return terminal.Fail(found.Problems);
            var list = found is null ? [.. Catalogue.All()] : new[] { found.Value };
            if (result.GetValue(json)) JsonOutput.Write(terminal, stream => InstrumentJson.WriteAll(list, stream));
            else if (found is null) WriteList(terminal, list);
            else WriteTubes(terminal, found.Value);
            return ExitCode.Done;
        });
        return command;
    }

    private static void WriteList(Terminal terminal, Instrument[] list)
    {
        terminal.Table(
            ["id", "range", "instrument"],
            list.Select(i => (IReadOnlyList<string>)[i.Id, RangeOf(i), i.Name]));
        terminal.Paragraph($"The default is {Catalogue.DefaultId}. A JSON file of your own works wherever an id does (docs/instrument-file.md).");
    }

    private static void WriteTubes(Terminal terminal, Instrument i)
    {
        terminal.Line($"{i.Name} ({i.Id}), A4 = {i.A4.Value} Hz, {i.Air.TemperatureC} °C, range {RangeOf(i)}");
        terminal.Line($"slide reaches {i.FurthestTravel.Value:0.0} cm, position {i.PositionAt(i.FurthestTravel):0.0}");
        terminal.Table(
            ["tube", "pedal Hz", "length m", "travel in cm to each semitone (position on the open horn)"],
            i.Sides.Select(s => (IReadOnlyList<string>)[s.Label.Length == 0 ? "open" : s.Label, $"{s.Fundamental.Value:0.00}", $"{s.EffectiveLength.Metres:0.000}", Travels(i, s)]),
            1, 2);
    }

    private static string Travels(Instrument instrument, Side side)
    {
        var reached = Enumerable.Range(0, 8).Select(k => Tube.TravelFor(side.EffectiveLength, k)).TakeWhile(t => t.Value <= instrument.FurthestTravel.Value);
        return string.Join("  ", reached.Select(t => $"{t.Value:0.0} ({instrument.PositionAt(t):0.0})"));
    }

    private static string RangeOf(Instrument i)
    {
        var (low, high) = i.Range();
        return $"{low.ToDisplay()}–{high.ToDisplay()}";
    }
}
