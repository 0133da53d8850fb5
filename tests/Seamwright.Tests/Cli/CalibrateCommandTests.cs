using System.Text.Json;
using Seamwright.Audio;
using Seamwright.Core.Instruments;
using Seamwright.Tests.Calibration;

namespace Seamwright.Tests.Cli;

public sealed class CalibrateCommandTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("seamwright-calibrate").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void A_horn_is_read_shown_before_and_after_and_written_so_that_it_loads_again()
    {
        var (take, target) = (Recorded(CalibrationTape.Slurs + " " + CalibrationTape.Scale), Path.Combine(folder, "my-horn.json"));
        var (code, text, error) = CommandLine.Run("calibrate", take, "-i", "tenor-straight", "-o", target);
        Assert.True(code == 0, error);
        Assert.All(text.Split('\n'), line => Assert.True(line.TrimEnd().Length <= 80, line));
        foreach (var word in (string[])["Hz before", "Hz after", "90 % interval", "lip slur, partial 5", "cm before", "temperature", "my-horn.json"]) Assert.Contains(word, text);
        using var stream = File.OpenRead(target);
        var horn = InstrumentFile.Read(stream, target).Value;
        Assert.Equal("my-horn", horn.Id);
        Assert.InRange(horn.A4.Value, 441.5, 442.5);
        Assert.InRange(horn.PartialOffsets[5].Value, 11, 17);
        Assert.Equal(0, CommandLine.Run("positions", "D4", "-i", target).Code);
        var (again, json, _) = CommandLine.Run("calibrate", take, "-i", target, "--json");
        Assert.Equal(0, again);
        var root = JsonDocument.Parse(json).RootElement;
        Assert.Equal("seamwright.calibration/1", root.GetProperty("schema").GetString());
        Assert.False(root.GetProperty("changed").GetBoolean());
    }

    [Fact]
    public void The_instrument_file_and_the_recording_are_never_replaced()
    {
        var take = Recorded(CalibrationTape.Scale);
        var own = Path.Combine(folder, "own.json");
        using (var stream = File.Create(own)) InstrumentFile.Write(Catalogue.Find("tenor-straight")!, stream);
        var before = File.ReadAllBytes(own);
        Assert.Equal(1, CommandLine.Run("calibrate", take, "-i", own, "-o", own).Code);
        Assert.Equal(1, CommandLine.Run("calibrate", take, "-o", take).Code);
        Assert.Equal(before, File.ReadAllBytes(own));
    }

    [Fact]
    public void Another_exercise_ends_with_a_message_and_nothing_written()
    {
        var target = Path.Combine(folder, "none.json");
        var (code, text, error) = CommandLine.Run("calibrate", Recorded("Bb2:1~ C3:1~ D3:1~ Eb3:1~ F3:1~ D3:1~ Eb3:1~ C3:1~ D3:1~ Bb2:2"), "-o", target);
        Assert.Equal(1, code);
        Assert.Empty(text);
        Assert.Contains("too little to calibrate from", error.ReplaceLineEndings(" ").Replace("   ", " "));
        Assert.False(File.Exists(target));
    }

    [Fact]
    public void Two_lengths_at_once_are_wrong_usage() =>
        Assert.Equal(2, CommandLine.Run("calibrate", "x.wav", "--length-cm", "294", "--seventh-cm", "61").Code);

    private string Recorded(string notes)
    {
        var sound = CalibrationTape.Play(CalibrationTape.Horn(442, 20, (5, 14)), notes, seed: 3);
        var path = Path.Combine(folder, "take.wav");
        using var stream = File.Create(path);
        WavFile.Write(stream, sound);
        return path;
    }
}
