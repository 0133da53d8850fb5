using System.Text;
using Seamwright.Core;
using Seamwright.Core.Scores;
using Seamwright.Tests.Scores.Abc;
using Seamwright.Tests.Scores.Midi;

namespace Seamwright.Tests.Scores;

public class AnyScoreTests
{
    private static readonly string Xml = Files.Partwise(Files.N("C3", 48));

    [Fact]
    public void A_file_is_told_by_its_content_whatever_its_name()
    {
        var files = new[] { Files.Utf8(Xml), Files.Mxl(Xml), MidiLines.Played((48, 0, 1920)), Files.Utf8("X:1\nM:4/4\nL:1/4\nK:C\nC,4|\n"), Files.Utf8("%abc\nM:4/4\nL:1/4\nC,4|\n") };

        foreach (var name in (string[])["tune", "tune.xml", "tune.mid", "tune.abc"])
            Assert.All(files, f => Assert.Equal("C3 4", Tunes.Notes(AnyScore.Read(new MemoryStream(f), name).Value.Parts[0])));
    }

    [Fact]
    public void Text_without_a_mark_of_its_own_is_ABC_by_its_name_only()
    {
        Assert.True(AnyScore.Read(new MemoryStream("CDEF|"u8.ToArray()), "tune.abc").Succeeded);
        Assert.Contains("no score that can be read here", Refused("CDEF|"u8.ToArray()).What, StringComparison.Ordinal);
        Assert.Contains("this is no tune in ABC", Assert.Single(AnyScore.Read(new MemoryStream("a cabbage bag"u8.ToArray()), "tune.abc").Problems).What, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("", "empty")]
    [InlineData("RIFF....WAVE", "no score that can be read here")]
    [InlineData("<html/>", "outermost element is <html>")]
    [InlineData("MThd", "MIDI file cannot be used")]
    [InlineData("X:1\nK:C\n", "holds no notes")]
    public void What_cannot_be_read_gives_one_clear_error(string content, string said) => Assert.Contains(said, Refused(Encoding.UTF8.GetBytes(content)).What, StringComparison.Ordinal);

    [Fact]
    public void Size_has_a_limit()
    {
        var outcome = AnyScore.Read(new MemoryStream(new byte[2000]), "x", ReadLimits.Default with { MostBytes = 1024 });

        Assert.Contains("is larger than", Assert.Single(outcome.Problems).What, StringComparison.Ordinal);
    }

    private static Problem Refused(byte[] bytes) => Assert.Single(AnyScore.Read(new MemoryStream(bytes), "tune.txt").Problems, p => p.Severity == Severity.Error);
}
