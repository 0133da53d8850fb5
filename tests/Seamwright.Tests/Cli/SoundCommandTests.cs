using System.Text.Json;
using Seamwright.Audio;

namespace Seamwright.Tests.Cli;

public sealed class SoundCommandTests : IDisposable
{
    private static readonly string Hill = CommandLine.Melody("over-the-hill");

    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory();

    public void Dispose() => folder.Delete(recursive: true);

    [Fact]
    public void A_play_along_is_sound_cue_sheet_and_time_map()
    {
        folder.CreateSubdirectory("new");
        var (code, output, error) = CommandLine.Run("sound", Hill, "-o", At("new/hill.wav"), "--key", "Eb", "--from", "200", "--to", "240", "--rounds", "2", "--drone", "both");
        Assert.True(code == 0, error);
        Assert.All(output.Split('\n').Where(l => !l.Contains(folder.FullName)), line => Assert.True(line.TrimEnd().Length <= 80, line));
        Assert.Contains("E♭ major", output);
        Assert.Contains("-18.0 LUFS", output);
        Assert.Contains("each example then you, with click, drone, chords.", Flat(output));
        using var map = JsonDocument.Parse(File.ReadAllText(At("new/hill.time-map.json")));
        using var sound = SoundFile.Open(At("new/hill.wav"), cancel: TestContext.Current.CancellationToken).Value;
        long samples = 0;
        var block = new float[1 << 15];
        for (var read = sound.Read(block); read > 0; read = sound.Read(block)) samples += read;
        Assert.Equal(map.RootElement.GetProperty("seconds").GetDouble(), samples / (double)sound.Rate.Value, 3);
        Assert.Equal([200.0, 240.0], map.RootElement.GetProperty("rounds").EnumerateArray().Select(r => r.GetProperty("tempo").GetDouble()));
        Assert.Contains("Round 2, quarter = 240", File.ReadAllText(At("new/hill.cues.txt")));
        Assert.Equal(3, Directory.GetFiles(At("new")).Length);
    }

    [Theory]
    [InlineData("--tempo", "0", "--tempo is '0'")]
    [InlineData("--rounds", "0", "--rounds is '0'")]
    [InlineData("--rounds", "1000000", "from 1 to 50")]
    [InlineData("--rounds", "2.5", "whole number")]
    [InlineData("--key", "H", "'H' is not a key")]
    [InlineData("--transpose", "M5", "'M5' is not an interval")]
    [InlineData("--octave", "9", "from -3 to 3")]
    [InlineData("--from", "60", "needs both --from and --to")]
    [InlineData("--speed", "0", "--speed is '0'")]
    [InlineData("--count-in", "-1", "--count-in is '-1'")]
    [InlineData("--drone", "loud", "loud")]
    [InlineData("--room", "cathedral", "--room is 'cathedral'; it may be none, small or hall")]
    [InlineData("-o", "sound.txt", "does not end in")]
    [InlineData("--key", "E#b", "'E#b' is not a key")]
    public void A_wrong_option_is_wrong_usage(string option, string value, string said)
    {
        var (code, output, error) = CommandLine.Run("sound", Hill, option, value);
        Assert.Equal(2, code);
        Assert.Empty(output);
        Assert.Contains(said, Flat(error));
    }

    [Theory]
    [InlineData("small", 0.1, 0.6)]
    [InlineData("hall", 0.8, 2.5)]
    public void In_a_room_the_sound_rings_on_after_its_schedule(string room, double least, double most)
    {
        double[] seconds = [.. ((string[])["none", room]).Select(r =>
        {
            var (code, output, error) = CommandLine.Run("sound", Hill, "-o", At($"{r}.wav"), "--tempo", "300", "--turns", "example", "--room", r);
            Assert.True(code == 0, error);
            Assert.Equal(r != "none", output.Contains($"in a room: {r}", StringComparison.Ordinal));
            var seconds = new FileInfo(At($"{r}.wav")).Length / 2.0 / 48_000;
            using var map = JsonDocument.Parse(File.ReadAllText(At($"{r}.time-map.json")));
            Assert.Equal(seconds, map.RootElement.GetProperty("seconds").GetDouble(), 5e-3);
            return seconds;
        })];
        Assert.InRange(seconds[1] - seconds[0], least, most);
    }

    [Theory]
    [InlineData("Nothing would be heard", "--turns", "you", "--click", "none", "--drone", "none", "--no-chords")]
    [InlineData("--click count-in and --count-in 0 exclude each other", "--click", "count-in", "--count-in", "0")]
    [InlineData("add --drone fifth or --drone both", "--fifth", "equal")]
    [InlineData("add --drone fifth or --drone both", "--fifth", "just", "--drone", "tonic")]
    [InlineData("--rounds is 'x'", "--from", "60", "--to", "70", "--rounds", "x")]
    [InlineData("--count-in is 'x'", "--turns", "you", "--click", "count-in", "--count-in", "x", "--no-chords")]
    public void Options_that_do_not_go_together_are_wrong_usage(string said, params string[] options)
    {
        var (code, output, error) = CommandLine.Run(["sound", Hill, "-o", At("x.wav"), .. options]);
        Assert.Equal(2, code);
        Assert.Empty(output);
        Assert.Contains(said, Flat(error));
    }

    [Fact]
    public void Where_only_the_part_shows_that_nothing_would_be_heard_it_is_told()
    {
        var (code, _, error) = CommandLine.Run("sound", CommandLine.Melody("low-tide"), "-o", At("x.wav"), "--turns", "you", "--click", "none");
        Assert.Equal(1, code);
        Assert.Contains("Nothing would be heard", Flat(error));
        Assert.Empty(folder.GetFiles());
    }

    [Fact]
    public void Where_one_of_the_three_results_cannot_be_written_none_is()
    {
        if (OperatingSystem.IsWindows()) Assert.Skip("reason: the stand-in for a full place is a Linux file name limit.");

        // A name of 244 letters: with .wav behind it fits, with .time-map.json it does not.
        var (code, _, error) = CommandLine.Run("sound", Hill, "-o", At(new string('x', 244) + ".wav"), "--tempo", "300");
        Assert.Equal(1, code);
        Assert.Contains("cannot be written", Flat(error));
        Assert.Empty(folder.GetFiles());
    }

    [Theory]
    [InlineData("/proc/x.wav")]
    [InlineData("/proc/x.mp3")]
    public void A_place_that_is_none_is_told_by_its_own_name(string place)
    {
        if (!Directory.Exists("/proc")) Assert.Skip("reason: there is no /proc here.");
        var (code, _, error) = CommandLine.Run("sound", Hill, "-o", place, "--tempo", "300");
        Assert.Equal(1, code);
        Assert.Contains("nothing can be put into /proc", Flat(error));
        Assert.DoesNotContain(".part", error);
    }

    [Fact] // True peak by ITU-R BS.1770, of what a decoder makes of the file.
    public void A_lossy_file_keeps_its_ceiling_as_it_is_heard_and_its_reading_is_that_of_the_file()
    {
        var (code, output, error) = CommandLine.Run("sound", CommandLine.Melody("over-the-hill"), "-o", At("x.opus"), "--tempo", "300", "--turns", "example", "--as", "hard-tongue");
        Assert.True(code == 0, error);
        using var decoded = SoundFile.Open(At("x.opus"), cancel: TestContext.Current.CancellationToken).Value;
        var heard = decoded.Loudness();
        Assert.InRange(heard.Peak!.Value.Value, -2.5, -1);
        Assert.Contains($"{heard.Integrated}, highest peak {heard.Peak}", Flat(output));
    }

    [Fact]
    public void An_output_that_names_nothing_is_told_once()
    {
        var (code, _, error) = CommandLine.Run("sound", Hill, "-o", "");
        Assert.Equal(2, code);
        Assert.Equal(1, error.Split("error:").Length - 1);
    }

    [Fact]
    public void Two_tempos_or_two_keys_at_once_are_refused()
    {
        Assert.Contains("give one of them", Flat(CommandLine.Run("sound", Hill, "--tempo", "60", "--speed", "50").Error));
        Assert.Contains("give one of them", Flat(CommandLine.Run("sound", Hill, "--key", "C", "--transpose", "M2").Error));
    }

    [Fact]
    public void A_key_that_cannot_be_played_says_what_can_and_leaves_no_file()
    {
        var (code, _, error) = CommandLine.Run("sound", Hill, "-o", At("x.wav"), "--octave", "2");
        Assert.Equal(1, code);
        Assert.Contains("cannot be played on the Tenor", Flat(error));
        Assert.Contains("fits the instrument", Flat(error));
        var (bass, _, told) = CommandLine.Run("sound", CommandLine.Melody("deep-well-for-bass"), "-i", "alto-eb", "-o", At("x.wav"));
        Assert.Equal(1, bass);
        Assert.Contains("notes that cannot be played", Flat(told));
        Assert.Empty(folder.GetFiles());
    }

    [Fact]
    public void The_input_is_not_replaced_and_an_impossible_place_is_told()
    {
        var own = At("hill.wav");
        File.Copy(Hill, own);
        Assert.Contains("is not replaced", Flat(CommandLine.Run("sound", own, "-o", own).Error));
        Assert.Equal(File.ReadAllText(Hill), File.ReadAllText(own));
        var (code, _, error) = CommandLine.Run("sound", Hill, "-o", Path.Combine(own, "below-a-file.wav"));
        Assert.Equal(1, code);
        Assert.Contains("cannot be written", Flat(error));
        Assert.Single(folder.GetFiles());
    }

    [Fact]
    public void Plan_and_sheet_move_to_another_key_too()
    {
        var (_, output, _) = CommandLine.Run("plan", Hill, "--key", "D", "--octave", "1", "--json");
        using var plan = JsonDocument.Parse(output);
        Assert.Equal("A3", plan.RootElement.GetProperty("notes")[0].GetProperty("pitch").GetString());
        Assert.Equal(0, CommandLine.Run("sheet", Hill, "--transpose", "-m2", "-o", At("e.musicxml")).Code);
        Assert.Contains("<fifths>4</fifths>", File.ReadAllText(At("e.musicxml")));
        Assert.Equal(1, CommandLine.Run("plan", Hill, "--octave", "3").Code);
    }

    [Fact]
    public void The_help_fits_eighty_columns() =>
        Assert.All(CommandLine.Run("sound", "--help").Output.Split('\n'), line => Assert.True(line.TrimEnd().Length <= 80, line));

    private string At(string name) => Path.Combine(folder.FullName, name);

    private static string Flat(string text) => string.Join(' ', text.Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries));
}
