using System.Text.Json;
using Seamwright.Core.Instruments;

namespace Seamwright.Tests.Cli;

public class InstrumentCommandsTests
{
    [Fact]
    public void The_catalogue_is_listed_as_approved() => Golden.Check("instruments.txt", CommandLine.Run("instruments").Output);

    [Fact]
    public void One_instruments_tubes_are_listed_as_approved() =>
        Golden.Check("bass-independent.txt", CommandLine.Run("instruments", "-i", "bass-independent").Output);

    [Fact]
    public void A_notes_positions_are_listed_as_approved() =>
        Golden.Check("positions-d4.txt", CommandLine.Run("positions", "D4", "--instrument", "tenor-f").Output);

    [Fact]
    public void Json_holds_the_same_figures_as_the_model()
    {
        var json = JsonDocument.Parse(CommandLine.Run("positions", "G4", "--json").Output).RootElement;
        var ours = Catalogue.Default.SettingsFor(Core.Units.Pitch.Parse("G4"));
        Assert.Equal(ours.Select(s => s.Label), json.GetProperty("settings").EnumerateArray().Select(s => s.GetProperty("label").GetString()));
        Assert.Equal(8, JsonDocument.Parse(CommandLine.Run("instruments", "--json").Output).RootElement.GetProperty("instruments").GetArrayLength());
    }

    [Fact]
    public void A_note_out_of_range_is_an_answer_not_an_error()
    {
        var (code, output, _) = CommandLine.Run("positions", "C2");
        Assert.Equal(0, code);
        Assert.Contains("No setting plays it", output);
    }

    [Fact]
    public void Nothing_at_all_shows_the_help() => Assert.Contains("positions", CommandLine.Run().Output);
}
