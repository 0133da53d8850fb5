namespace Seamwright.Tests.Cli;

/// <summary>Results that have no room beside the inputs or each other, on every command, before any work is done.</summary>
public sealed class NamedFilesTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("seamwright-files").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Theory]
    [InlineData("--report x.html -o x.html")]
    [InlineData("--track x.csv -o ./x.csv")]
    [InlineData("--report x.html --report y.html --track x.html")]
    [InlineData("--report x.pdf --report x.pdf")]
    [InlineData("--track link/x.csv -o x.csv")]
    public void Two_results_of_one_name_are_wrong_usage(string options)
    {
        Directory.CreateSymbolicLink(Path.Combine(folder, "link"), folder);
        string[] placed = [.. options.Split(' ').Select(o => o.StartsWith('-') ? o : Path.Combine(folder, o))];
        var (code, output, error) = CommandLine.Run(["hear", Take(), "--part", CommandLine.Melody("evening-ferry"), .. placed]);
        Assert.Equal(2, code);
        Assert.Empty(output);
        Assert.Contains("Two results would go to", error);
        Assert.Equal(["link", "take.wav"], Directory.EnumerateFileSystemEntries(folder).Select(Path.GetFileName).Order());
    }

    [Theory]
    [InlineData("plan")]
    [InlineData("sheet")]
    public void A_folder_is_no_place_for_a_file_and_keeps_no_traces(string command)
    {
        var target = Directory.CreateDirectory(Path.Combine(folder, "out.pdf")).FullName;
        var (code, _, error) = CommandLine.Run(command, CommandLine.Melody("evening-ferry"), "-o", target);
        Assert.Equal(1, code);
        Assert.Contains("it is a folder", Flat(error));
        Assert.Equal(["out.pdf"], Directory.EnumerateFileSystemEntries(folder).Select(Path.GetFileName));
    }

    [Fact]
    public void A_misspelt_folder_is_told_and_not_made()
    {
        var (code, _, error) = CommandLine.Run("plan", CommandLine.Melody("evening-ferry"), "-o", Path.Combine(folder, "paln", "plan.json"));
        Assert.Equal(1, code);
        Assert.Contains($"there is no folder {Path.Combine(folder, "paln")}", Flat(error));
        Assert.Empty(Directory.EnumerateFileSystemEntries(folder));
    }

    [Fact]
    public void The_unfinished_files_name_is_nobodys_business()
    {
        if (!Directory.Exists("/proc/self")) Assert.Skip("reason: no folder here in which even the system's owner can make nothing");
        var (code, _, error) = CommandLine.Run("plan", CommandLine.Melody("evening-ferry"), "-o", "/proc/x.json");
        Assert.Equal(1, code);
        Assert.Contains("/proc/x.json cannot be written: nothing can be put into /proc.", Flat(error));
        Assert.DoesNotContain(".part", error);
    }

    [Fact]
    public void A_sheets_own_name_never_replaces_the_part_either()
    {
        var here = Directory.GetCurrentDirectory();
        var part = Path.Combine(here, $"{Path.GetFileName(folder)}.pdf");
        File.Copy(CommandLine.Melody("evening-ferry"), part);
        try
        {
            var before = File.ReadAllBytes(part);
            Assert.Equal(1, CommandLine.Run("sheet", part).Code);
            Assert.Equal(before, File.ReadAllBytes(part));
        }
        finally
        {
            File.Delete(part);
        }
    }

    [Theory]
    [InlineData("plan", "tune.musicxml", "-o", "a.json", "-o", "b.json")]
    [InlineData("plan", "tune.musicxml", "-i", "kazoo-with-a-rather-long-name-that-nobody-ever-gave-to-a-trombone")]
    [InlineData("plan", "tune.musicxml", "--tempo", "very-very-very-fast-and-then-even-faster-until-the-end-of-the-piece")]
    [InlineData("sheet", "tune.musicxml", "--paper", "the-back-of-an-envelope-that-somebody-left-on-the-piano-last-week")]
    [InlineData("hear", "take.wav", "--track", "a.csv", "--track", "b.csv")]
    [InlineData("calibrate", "take.wav", "--seventh-cm", "60", "--seventh-cm", "61")]
    public void What_is_said_about_wrong_usage_fits_eighty_columns(params string[] line)
    {
        var (code, output, error) = CommandLine.Run(line);
        Assert.Equal(2, code);
        Assert.Empty(output);
        Assert.All(error.Split('\n').Where(l => l.Contains(' ')), l => Assert.True(l.Length <= 80 || !l.Trim().Contains(' '), l));
    }

    [Fact]
    public void The_demos_results_go_to_what_its_help_calls_a_folder()
    {
        Assert.Contains("<FOLDER>", CommandLine.Run("demo", "--help").Output);
        var file = Path.Combine(folder, "file");
        File.WriteAllText(file, "mine");
        Assert.Equal(1, CommandLine.Run("demo", "-o", file).Code);
        Assert.Equal("mine", File.ReadAllText(file));
    }

    [Fact]
    public void Instruments_are_spelt_as_notes_are_everywhere()
    {
        var (_, output, _) = CommandLine.Run("instruments");
        Assert.DoesNotMatch("[A-G]b[0-9]", output);
        Assert.Contains("♭", output);
    }

    private static string Flat(string error) => System.Text.RegularExpressions.Regex.Replace(error, @"\s+", " ");

    private string Take()
    {
        var path = Path.Combine(folder, "take.wav");
        File.WriteAllBytes(path, [1, 2, 3]);
        return path;
    }
}
