using System.Text.Json;

namespace Seamwright.Tests.Cli;

public sealed class SpoiltExampleTests : IDisposable
{
    private static readonly string Hill = CommandLine.Melody("over-the-hill");

    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory();

    public void Dispose() => folder.Delete(recursive: true);

    [Theory]
    [InlineData("--as is 'wobbly'; it may be clean, smeared, slow-slide, late-tongue, early-tongue, hard-tongue, stopped-air, no-tongue, cracked, sharp, hurried-slide, tongued or uneven-air.", "--as", "wobbly")]
    [InlineData("--amount of smeared must be 30 to 320 ms, not 500: the pitch's way", "--as", "smeared", "--amount", "500")]
    [InlineData("--amount of hard-tongue must be 17 to 27 dB, not 5: how deep", "--as", "hard-tongue", "--amount", "5")]
    [InlineData("--amount of stopped-air must be 20 to 300 ms, not 10: how long the level lies more than 20 dB down; what hardly outlasts the 13 ms, on low notes two periods, that hearing takes together is no silence yet.", "--as", "stopped-air", "--amount", "10")]
    [InlineData("--amount is 'much'; it must be a number", "--as", "smeared", "--amount", "much")]
    [InlineData("--amount needs --as with a fault: smeared", "--amount", "50")]
    [InlineData("--change needs --as with a fault: smeared", "--change", "3")]
    [InlineData("--change is 'first'; it must be the number of the note that the change leads from", "--as", "cracked", "--change", "first")]
    [InlineData("--as cracked and --turns you exclude each other", "--as", "cracked", "--turns", "you")]
    public void What_the_options_alone_show_to_be_wrong_is_wrong_usage(string said, params string[] options)
    {
        var (code, output, error) = CommandLine.Run(["sound", Hill, "-o", At("x.wav"), .. options]);
        Assert.Equal(2, code);
        Assert.Empty(output);
        Assert.Contains(said, Flat(error));
        Assert.Empty(folder.GetFiles());
    }

    [Fact]
    public void A_change_that_the_part_has_not_or_that_no_example_plays_is_told()
    {
        var (beyond, _, error) = CommandLine.Run("sound", Hill, "-o", At("x.wav"), "--as", "cracked", "--change", "400");
        Assert.Equal(1, beyond);
        Assert.Contains("--change 400: there are 42 changes. Give a number from 0 to 41", Flat(error));
        CommandLine.Run("sound", Hill, "-o", At("y.wav"), "--tempo", "300");
        using var map = JsonDocument.Parse(File.ReadAllText(At("y.time-map.json")));
        var second = map.RootElement.GetProperty("moments").EnumerateArray().First(m => m.TryGetProperty("note", out _) && Section(map, m).GetProperty("phrase").GetInt32() == 2);
        var (between, _, told) = CommandLine.Run("sound", Hill, "-o", At("x.wav"), "--as", "cracked", "--change", $"{second.GetProperty("note").GetInt32() - 1}");
        Assert.Equal(1, between);
        Assert.Contains("leads from one phrase to the next", Flat(told));
        Assert.False(File.Exists(At("x.wav")));
    }

    [Fact]
    public void Cue_sheet_time_map_and_tags_say_that_the_example_is_wrong_on_purpose()
    {
        var (code, _, error) = CommandLine.Run("sound", Hill, "-o", At("x.wav"), "--as", "hard-tongue", "--amount", "25", "--change", "2", "--change", "7", "--turns", "example");
        Assert.Equal(0, code);
        Assert.Contains("hard-tongue, 25 dB: 2 of 42 changes are played so: 2 (bar", Flat(error));
        Assert.Contains("The examples are wrong on purpose: hard-tongue, 25 dB, at changes 2, 7.", File.ReadAllText(At("x.cues.txt")));
        using var map = JsonDocument.Parse(File.ReadAllText(At("x.time-map.json")));
        var wrong = map.RootElement.GetProperty("wrongOnPurpose");
        Assert.Equal(("hard-tongue", 25.0, "dB"), (wrong.GetProperty("fault").GetString(), wrong.GetProperty("amount").GetDouble(), wrong.GetProperty("unit").GetString()));
        Assert.Equal([2, 7], wrong.GetProperty("changes").EnumerateArray().Select(c => c.GetInt32()));
        var head = System.Text.Encoding.UTF8.GetString(File.ReadAllBytes(At("x.wav")).AsSpan(0, 600));
        Assert.Contains("(play-along, hard-tongue on purpose)", head);
        Assert.Contains("The examples are wrong on purpose: hard-tongue, 25 dB.", head);
    }

    [Fact]
    public void Sharp_notes_are_counted_as_notes_and_named()
    {
        var (code, _, error) = CommandLine.Run("sound", Hill, "-o", At("x.wav"), "--as", "sharp", "--turns", "example");
        Assert.Equal(0, code);
        Assert.Matches(@"sharp, \d+ cents: \d+ of 43 notes are played so: [A-G][♭♯]?\d \(bar \d+\)", Flat(error));
    }

    [Fact]
    public void A_tongue_too_early_to_be_told_from_a_break_is_moved_and_that_is_said()
    {
        string[] options = ["sound", Hill, "-o", At("x.wav"), "--turns", "example", "--policy", "every-note", "--prefer", "plain-positions", "--as", "early-tongue", "--amount"];
        Assert.Contains("of them the partial changes too, and 20 ms are played there", Flat(CommandLine.Run([.. options, "12"]).Error));
        Assert.DoesNotContain("the partial changes too", Flat(CommandLine.Run([.. options, "20"]).Error));
    }

    [Fact]
    public void Between_short_notes_what_fits_is_played_and_told_everywhere()
    {
        var lane = CommandLine.Melody("crooked-lane");
        var (code, _, error) = CommandLine.Run("sound", lane, "-o", At("x.wav"), "--turns", "example", "--as", "smeared", "--change", "13", "--change", "12");
        Assert.Equal(0, code);
        Assert.Contains("smeared, 165 ms: 2 of 49 changes are played so: 12 (bar 3), 13 (bar 3, 75 ms).", Flat(error));
        Assert.Contains("between the notes of 1 of them no more than 75 ms fits, and that is played", Flat(error));
        Assert.Contains("As the notes allow, at change 13: 75 ms.", File.ReadAllText(At("x.cues.txt")));
        using var map = JsonDocument.Parse(File.ReadAllText(At("x.time-map.json")));
        var otherwise = Assert.Single(map.RootElement.GetProperty("wrongOnPurpose").GetProperty("otherwise").EnumerateArray());
        Assert.Equal((1, 13, 75.1), (otherwise.GetProperty("round").GetInt32(), otherwise.GetProperty("change").GetInt32(), otherwise.GetProperty("amount").GetDouble()));
        Assert.Contains("smeared, 165 ms, or what there is room for.", System.Text.Encoding.UTF8.GetString(File.ReadAllBytes(At("x.wav")).AsSpan(0, 600)));
    }

    [Fact]
    public void A_change_without_room_for_the_least_is_refused_with_what_to_do()
    {
        var (code, _, error) = CommandLine.Run("sound", CommandLine.Melody("crooked-lane"), "-o", At("x.wav"), "--turns", "example", "--as", "stopped-air", "--change", "13", "--tempo", "300");
        Assert.Equal(1, code);
        Assert.Contains("--change 13: cannot be stopped-air at this tempo: between such short notes there is no room for 20 ms of it, the least that can be told. Play it slower, or name a change between longer notes.", Flat(error));
        Assert.False(File.Exists(At("x.wav")));
    }

    [Fact]
    public void A_clean_example_is_marked_nowhere()
    {
        CommandLine.Run("sound", Hill, "-o", At("x.wav"), "--tempo", "300");
        Assert.DoesNotContain("purpose", File.ReadAllText(At("x.cues.txt")));
        Assert.DoesNotContain("wrongOnPurpose", File.ReadAllText(At("x.time-map.json")));
        Assert.DoesNotContain("purpose", System.Text.Encoding.UTF8.GetString(File.ReadAllBytes(At("x.wav")).AsSpan(0, 600)));
    }

    private static JsonElement Section(JsonDocument map, JsonElement moment) => map.RootElement.GetProperty("sections")[moment.GetProperty("section").GetInt32()];

    private string At(string name) => Path.Combine(folder.FullName, name);

    private static string Flat(string text) => string.Join(' ', text.Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries));
}
