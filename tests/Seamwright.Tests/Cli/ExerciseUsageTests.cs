namespace Seamwright.Tests.Cli;

/// <summary>Orders that cannot be meant, and files that are there already.</summary>
public sealed class ExerciseUsageTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("seamwright-usage").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    private string At(string name) => Path.Combine(folder, name);

    private static string Plain(string text) => string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

    [Theory]
    [InlineData("--positions: means nothing to the exercise 'scales'. It uses: --key, --scale, --register", "scales", "--positions", "1-3")]
    [InlineData("--touches: 5 to the beat cannot be asked for.", "one-note", "--touches", "5")]
    [InlineData("--tempos: 90, 60 is no tempo ladder.", "one-note", "--tempos", "90,60")]
    [InlineData("--tune: is missing: the exercise 'from-tune' is drawn from music.", "from-tune")]
    [InlineData("'Bb9' is not a note from C-1 to G9 such as Bb3", "one-note", "--note", "Bb9")]
    public void An_order_that_cannot_be_meant_is_wrong_usage_in_the_options_own_names(string told, string kind, params string[] options)
    {
        var (code, _, error) = CommandLine.Run(["exercise", kind, .. options, "-o", At("x.musicxml")]);
        Assert.Equal(2, code);
        Assert.Contains(told, Plain(error));
        Assert.Empty(Directory.GetFiles(folder));
    }

    [Fact]
    public void Everything_wrong_with_a_recipe_is_told_at_once()
    {
        File.WriteAllText(At("bad.json"), """
            {"schema":"seamwright.book/1","instrument":"nothing.json","image":"none.png","exercises":[
              {"kind":"from-tune","tune":"nope.xml"},{"kind":"arpeggios","chord":"foo"},{"kind":"from-tune"}]}
            """);
        var (code, _, error) = CommandLine.Run("book", At("bad.json"));
        Assert.Equal(1, code);
        Assert.All(["nothing.json", "none.png", "nope.xml", "foo", "$.exercises[2].tune"], what => Assert.Contains(what, Plain(error)));
    }

    [Fact]
    public void An_older_result_that_gives_way_is_told()
    {
        string[] order = ["exercise", "one-note", "-o", At("x.musicxml")];
        var (_, _, before) = CommandLine.Run(order);
        Assert.DoesNotContain("older", before);
        var (code, _, error) = CommandLine.Run(order);
        Assert.Equal(0, code);
        Assert.Contains("x.musicxml: an older file of that name was replaced.", Plain(error));
        var (refused, _, quiet) = CommandLine.Run("exercise", "one-note", "--touches", "5", "-o", At("x.musicxml"));
        Assert.Equal(2, refused);
        Assert.DoesNotContain("older", quiet);
    }
}
