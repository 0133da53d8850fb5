using Seamwright.Core.Scores;

namespace Seamwright.Tests.Cli;

/// <summary>A part may be given in every open format that is read.</summary>
public sealed class ScoreFormatTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("seamwright-formats").FullName;

    private const string Abc = "%abc-2.1\nX:1\nT:Evening Walk\nM:4/4\nL:1/4\nQ:1/4=80\nK:Bb clef=bass\n|:(B,,C, D,E,)|F,2 \"Bb\"B,,2:|\n";

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void A_part_in_ABC_is_planned_and_printed()
    {
        var part = Written("walk.abc", Abc);

        var (code, output, error) = CommandLine.Run("plan", part);
        Assert.Equal((0, ""), (code, error));
        Assert.StartsWith("Evening Walk: 12 notes on", output, StringComparison.Ordinal);

        var sheet = Path.Combine(folder, "walk.musicxml");
        Assert.Equal(0, CommandLine.Run("sheet", part, "-o", sheet).Code);
        Assert.Contains("<work-title>Evening Walk</work-title>", File.ReadAllText(sheet), StringComparison.Ordinal);
    }

    [Fact]
    public void A_line_goes_out_as_MIDI_and_comes_back_as_a_part()
    {
        var part = Written("walk.abc", Abc);
        var midi = Path.Combine(folder, "walk.mid");

        Assert.Equal(0, CommandLine.Run("sheet", part, "-o", midi).Code);

        var (code, output, _) = CommandLine.Run("plan", midi);
        Assert.Equal(0, code);
        Assert.StartsWith("Evening Walk: 12 notes on", output, StringComparison.Ordinal);
        using var content = File.OpenRead(midi);
        Assert.Equal("Bb2 C3 D3 Eb3 F3 Bb2 Bb2 C3 D3 Eb3 F3 Bb2", string.Join(' ', AnyScore.Read(content, "walk.mid").Value.Parts[0].Notes.Select(n => n.Pitch)));
    }

    [Theory]
    [InlineData("plan")]
    [InlineData("sheet")]
    [InlineData("sound")]
    [InlineData("film")]
    [InlineData("hear")]
    [InlineData("calibrate")]
    public void Every_command_that_reads_a_part_names_the_formats(string command)
    {
        var help = string.Join(' ', CommandLine.Run(command, "--help").Output.Split((char[])[' ', '\n'], StringSplitOptions.RemoveEmptyEntries));

        Assert.Contains(AnyScore.Kinds, help, StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_that_is_no_score_says_what_can_be_read()
    {
        var (code, _, error) = CommandLine.Run("plan", Written("walk.txt", "Dear diary"));

        Assert.Equal(1, code);
        Assert.Contains("walk.txt: This is no score that can be read here.", error, StringComparison.Ordinal);
    }

    private string Written(string name, string text)
    {
        var path = Path.Combine(folder, name);
        File.WriteAllText(path, text);
        return path;
    }
}
