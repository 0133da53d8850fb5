using System.Xml.Linq;
using Seamwright.Core.Exercises;
using UglyToad.PdfPig;

namespace Seamwright.Tests.Cli;

public sealed class ExerciseCommandTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("seamwright-exercise").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    private string At(string name) => Path.Combine(folder, name);

    [Fact]
    public void Without_a_kind_every_kind_is_listed()
    {
        var (code, output, _) = CommandLine.Run("exercise");
        Assert.Equal(0, code);
        Assert.All(ExerciseMaker.Kinds, k => Assert.Contains(k.Name, output));
        Assert.Equal(output, CommandLine.Run("exercise", "--list").Output);
    }

    [Fact]
    public void Several_keys_make_one_pdf_and_a_musicxml_each()
    {
        string[] order = ["exercise", "three-passes", "--key", "Bb", "--key", "F", "--level", "4"];
        var pdf = CommandLine.Run([.. order, "-o", At("scales.pdf")]);
        Assert.Equal(0, pdf.Code);
        Assert.Contains("B♭ major in three passes", pdf.Output);
        using (var read = PdfDocument.Open(At("scales.pdf"))) Assert.InRange(read.NumberOfPages, 2, 3);
        Assert.Equal(0, CommandLine.Run([.. order, "-o", At("scales.musicxml")]).Code);
        var files = Directory.GetFiles(folder, "*.musicxml").Order().ToList();
        Assert.Equal(2, files.Count);
        Assert.All(files, f => Assert.NotEmpty(XDocument.Load(f).Descendants("other-listen")));
    }

    [Fact]
    public void Arm_and_range_leave_out_what_the_pupil_cannot_do()
    {
        var (code, _, error) = CommandLine.Run("exercise", "three-passes", "--key", "Bb", "--range", "F3-D4", "-o", At("x.pdf"));
        Assert.Equal(1, code);
        Assert.Contains("nothing of it fits", error.ReplaceLineEndings(" "));
        Assert.Empty(Directory.GetFiles(folder));
        Assert.Equal(0, CommandLine.Run("exercise", "two-notes", "-i", "tenor-straight", "--max-position", "4", "-o", At("near.musicxml")).Code);
        var far = Directory.GetFiles(folder, "near*.musicxml").SelectMany(f => XDocument.Load(f).Descendants("other-play")).Select(e => e.Value).ToList();
        Assert.NotEmpty(far);
        Assert.DoesNotContain(far, s => s.StartsWith('5') || s.StartsWith('6') || s.StartsWith('7'));
    }

    [Theory]
    [InlineData("exercise", "no-such-kind")]
    [InlineData("exercise", "one-note", "-o", "x.docx")]
    [InlineData("exercise", "one-note", "--touches", "two")]
    [InlineData("exercise", "one-note", "--note", "H3")]
    [InlineData("exercise", "three-passes", "--key", "X")]
    [InlineData("exercise", "three-passes", "--range", "D4-F2")]
    [InlineData("exercise", "two-notes", "--positions", "1")]
    [InlineData("exercise", "two-notes", "--level", "7")]
    [InlineData("book")]
    [InlineData("book", "x.json", "-o", "x.docx")]
    [InlineData("book", "x.json", "--init", "y.json")]
    public void Wrong_usage_is_told(params string[] args) => Assert.Equal(2, CommandLine.Run(args).Code);

    [Fact]
    public void An_option_that_the_kind_does_not_use_is_told()
    {
        var (code, _, error) = CommandLine.Run("exercise", "one-note", "--octaves", "2", "-o", At("x.pdf"));
        Assert.Equal(2, code);
        Assert.Contains("means nothing to the exercise 'one-note'", error.ReplaceLineEndings(" "));
    }

    [Fact]
    public void An_exercise_sounds()
    {
        Assert.Equal(0, CommandLine.Run("exercise", "two-notes", "--positions", "1-2", "--tempos", "100,120", "-o", At("two.opus")).Code);
        Assert.True(new FileInfo(At("two.opus")).Length > 20_000);
    }
}
