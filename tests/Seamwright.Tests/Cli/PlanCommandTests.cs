using System.Text.Json;
using Seamwright.Core.Instruments;

namespace Seamwright.Tests.Cli;

public class PlanCommandTests
{
    public static TheoryData<string, string> EveryMelodyOnEveryInstrument
    {
        get
        {
            var data = new TheoryData<string, string>();
            foreach (var melody in CommandLine.Melodies())
            {
                foreach (var id in Catalogue.Ids) data.Add(Path.GetFileNameWithoutExtension(melody), id);
            }

            return data;
        }
    }

    [Theory]
    [MemberData(nameof(EveryMelodyOnEveryInstrument))]
    public void Every_melody_is_planned_on_every_instrument(string melody, string instrument)
    {
        var (code, output, error) = CommandLine.Run("plan", CommandLine.Melody(melody), "-i", instrument, "--json");
        Assert.True(code == 0, error);
        var plan = JsonDocument.Parse(output).RootElement;
        Assert.Equal("seamwright.plan/1", plan.GetProperty("schema").GetString());
        var notes = plan.GetProperty("notes").EnumerateArray().ToList();
        Assert.NotEmpty(notes);
        Assert.Equal(notes.Count - 1, plan.GetProperty("changes").GetArrayLength());
        var unplayed = notes.Count(n => n.GetProperty("setting").ValueKind == JsonValueKind.Null);
        var told = plan.GetProperty("problems").EnumerateArray().Count(p => p.GetProperty("what").GetString()!.Contains("cannot be played on"));
        Assert.Equal(unplayed, told);
    }

    [Fact]
    public void The_demo_tune_is_planned_as_approved()
    {
        var (code, output, _) = CommandLine.Run("plan", CommandLine.Melody("evening-ferry"), "--json");
        Assert.Equal(0, code);
        Golden.Check("evening-ferry.plan.json", output);
    }

    [Fact]
    public void The_plan_reads_well_at_eighty_columns()
    {
        var (_, output, _) = CommandLine.Run("plan", CommandLine.Melody("evening-ferry"));
        Golden.Check("evening-ferry.plan.txt", output);
        Assert.All(output.Split('\n'), line => Assert.True(line.TrimEnd().Length <= 80, line));
    }

    [Theory]
    [InlineData("--policy", "loud")]
    [InlineData("--lock", "twelve=4")]
    [InlineData("--lock", "12")]
    [InlineData("--ban", "99")]
    [InlineData("--tempo", "fast")]
    [InlineData("--tempo", "0")]
    [InlineData("--max-position", "9")]
    [InlineData("--instrument", "kazoo")]
    [InlineData("--nonsense", "1")]
    public void A_wrong_option_is_wrong_usage(string option, string value)
    {
        var (code, output, error) = CommandLine.Run("plan", CommandLine.Melody("evening-ferry"), option, value);
        Assert.Equal(2, code);
        Assert.Empty(output);
        Assert.Contains("--help", error);
    }

    [Fact]
    public void A_missing_file_a_folder_and_a_file_that_is_no_music_are_told_apart()
    {
        Assert.Contains("no such file", Bad("nowhere.musicxml"));
        Assert.Contains("is a folder", Bad(Repository.Root));
        Assert.NotEmpty(Bad(Path.Combine(Repository.Root, "README.md")));

        static string Bad(string path)
        {
            var (code, output, error) = CommandLine.Run("plan", path);
            Assert.Equal(1, code);
            Assert.Empty(output);
            return error.ReplaceLineEndings(" ").Replace("   ", " ");
        }
    }

    [Fact]
    public void A_lock_in_vain_says_what_there_is_instead()
    {
        var (code, _, error) = CommandLine.Run("plan", CommandLine.Melody("evening-ferry"), "--lock", "0=2");
        Assert.Equal(1, code);
        Assert.Contains("cannot be played as 2", error);
        Assert.Contains("It has:", error);
    }

    [Fact]
    public void A_plan_goes_to_a_file_and_an_impossible_place_is_told()
    {
        var folder = Directory.CreateTempSubdirectory();
        try
        {
            var target = Path.Combine(folder.FullName, "plan.json");
            Assert.Equal(0, CommandLine.Run("plan", CommandLine.Melody("evening-ferry"), "-o", target).Code);
            using var json = JsonDocument.Parse(File.ReadAllText(target));
            var (code, _, error) = CommandLine.Run("plan", CommandLine.Melody("evening-ferry"), "-o", Path.Combine(target, "below-a-file.json"));
            Assert.Equal(1, code);
            Assert.Contains("cannot be written", error);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    [Fact]
    public void A_valve_is_banned_by_the_name_the_program_prints_and_an_unknown_one_is_refused()
    {
        var (code, output, _) = CommandLine.Run("plan", CommandLine.Melody("evening-ferry"), "-i", "bass-independent", "--ban", "G♭");
        Assert.Equal(0, code);
        Assert.DoesNotContain("G♭1", output);
        Assert.DoesNotContain("G♭ ♭", output);
        var (bad, _, error) = CommandLine.Run("plan", CommandLine.Melody("evening-ferry"), "--ban", "xyz");
        Assert.Equal(1, bad);
        Assert.Contains("no such valve", error);
    }

    [Theory]
    [InlineData("2,5")]
    [InlineData("abc")]
    [InlineData("NaN")]
    public void A_number_that_is_none_is_told_in_plain_words(string value)
    {
        var (code, _, error) = CommandLine.Run("plan", CommandLine.Melody("evening-ferry"), "--max-position", value);
        Assert.Equal(2, code);
        Assert.Contains($"--max-position is '{value}'; it must be a number from 1 to 8", error);
        Assert.DoesNotContain("System.", error);
    }
}
