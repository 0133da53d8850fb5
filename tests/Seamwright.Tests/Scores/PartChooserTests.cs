using Seamwright.Core;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;
using static Seamwright.Tests.Scores.Files;

namespace Seamwright.Tests.Scores;

public class PartChooserTests
{
    private static readonly Score Band = ScoreOf(
        ("P1", "Flute", string.Concat(Enumerable.Repeat(N("C6", 12), 4))),
        ("P2", "Trombone", N("Bb2", 12) + N("C3", 12) + N("D3", 24)),
        ("P3", "Tuba", N("Bb1", 24) + N("C1", 24)),
        ("P4", "Silence", R(48)));

    [Theory]
    [InlineData("P3", "Tuba")]
    [InlineData("tuba", "Tuba")]
    [InlineData("3", "Tuba")]
    [InlineData(" 1 ", "Flute")]
    public void A_part_is_named_by_id_name_or_number(string wanted, string expected) =>
        Assert.Equal(expected, PartChooser.Choose(Band, Catalogue.Default, wanted).Value.Name);

    [Fact]
    public void Without_a_name_the_part_that_fits_is_taken_and_said_aloud()
    {
        var outcome = PartChooser.Choose(Band, Catalogue.Default);

        Assert.Equal("Trombone", outcome.Value.Name);
        var said = Assert.Single(outcome.Problems);
        Assert.Equal(Severity.Note, said.Severity);
        Assert.Contains("Chose Trombone (P2): 100 % of its 3 notes", said.What);
        Assert.Contains("Flute (P1) (0 % of 4)", said.What);
    }

    [Fact]
    public void Of_two_that_fit_the_one_with_more_notes_is_taken_then_the_first()
    {
        var score = ScoreOf(("P1", "A", N("C3", 48)), ("P2", "B", N("C3", 24) + N("D3", 24)), ("P3", "C", N("C3", 24) + N("D3", 24)));

        Assert.Equal("B", PartChooser.Choose(score, Catalogue.Default).Value.Name);
    }

    [Fact]
    public void A_single_part_is_taken_without_a_word() => Assert.Empty(PartChooser.Choose(ScoreOf(("P1", "A", N("C3", 48))), Catalogue.Default).Problems);

    [Fact]
    public void A_voice_is_chosen_by_its_name()
    {
        var score = Read(Partwise(N("C4", 48) + "<backup><duration>48</duration></backup>" + N("C3", 48, voice: "2"))).Value;

        Assert.Equal("C3", PartChooser.Choose(score, Catalogue.Default, null, "2").Value.Notes.Single().Pitch.ToString());
        Assert.Contains("Its voices are 1, 2.", PartChooser.Choose(score, Catalogue.Default, "1", "9").Problems.Single().Hint);
    }

    [Fact]
    public void An_unknown_part_lists_those_there_are()
    {
        var problem = PartChooser.Choose(Band, Catalogue.Default, "Harp").Problems.Single();

        Assert.Equal(Severity.Error, problem.Severity);
        Assert.Contains("Flute (P1), Trombone (P2), Tuba (P3), Silence (P4)", problem.Hint);
    }

    [Fact]
    public void A_part_of_rests_cannot_be_chosen() =>
        Assert.Contains("no notes", PartChooser.Choose(Band, Catalogue.Default, "Silence").Problems.Single().What);

    [Fact]
    public void Problems_of_other_parts_can_be_left_aside()
    {
        Problem[] problems = [new("Flute", "a"), new("Flute, bar 1", "b"), new("Trombone, bar 2", "c"), new("Flutes, bar 1", "d"), new("score", "e")];

        Assert.Equal("cde", string.Concat(PartChooser.About(problems, Band, Band.Parts[1]).Select(p => p.What)));
    }

    private static Score ScoreOf(params (string Id, string Name, string Notes)[] parts) => Read(
        "<score-partwise version=\"4.0\"><part-list>" + string.Concat(parts.Select(p => $"<score-part id=\"{p.Id}\"><part-name>{p.Name}</part-name></score-part>")) + "</part-list>"
        + string.Concat(parts.Select(p => $"<part id=\"{p.Id}\"><measure number=\"1\">{Start}{p.Notes}</measure></part>")) + "</score-partwise>").Value;
}
