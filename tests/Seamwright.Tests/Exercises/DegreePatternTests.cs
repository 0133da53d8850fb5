using CsCheck;
using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Exercises;

public class DegreePatternTests
{
    [Theory]
    [InlineData("1 2 3 1", "C3 D3 E3 C3")]
    [InlineData("1 3 up 3", "C3 E3|D3 F3|E3 G3")]
    [InlineData("1 3 up 2 down", "C3 E3|D3 F3|F3 D3|E3 C3")]
    [InlineData("1 2 3 down 2", "D3 E3 F3|C3 D3 E3")]
    [InlineData("5, 1 2 up 2 down", "G2 C3 D3|A2 D3 E3|E3 B2 A2|D3 A2 G2")]
    [InlineData("3 #2 3", "E3 D#3 E3")]
    [InlineData("b3 1' 8 9", "Eb3 C4 C4 D4")]
    [InlineData("3 #2 3 down 1", "E3 D#3 E3")]
    [InlineData("1 - 2", "C3 - D3")]
    [InlineData("1 3 5 down 2", "D3 F3 A3|C3 E3 G3")]
    [InlineData("3 #2 3 up 1 down", "E3 D#3 E3|D3 Eb3 D3")]
    public void Degrees_become_notes(string text, string expected)
    {
        var figures = DegreePattern.Read(text).Value.On(Scale.Find("major")!, Pitch.Parse("C3"));
        Assert.Equal(expected, string.Join('|', figures.Select(f => string.Join(' ', f.Select(n => n.Pitch?.ToString() ?? "-")))));
    }

    [Theory]
    [InlineData("1 2", "1 1")]
    [InlineData("1:8 2 3:2. 4", "1/2 1/2 3 3")]
    [InlineData("1:8t 2 3 -:16 1", "1/3 1/3 1/3 1/4 1/4")]
    public void A_value_stays_until_the_next(string text, string expected) => Assert.Equal(expected, string.Join(' ', DegreePattern.Read(text).Value.Figure.Select(n => n.Length)));

    [Theory]
    [InlineData("", "character 1:", "no note")]
    [InlineData("- -", "character 1:", "no note")]
    [InlineData("1 x 3", "character 3:", "'x' is neither")]
    [InlineData("1 2:5", "character 5:", "'5' is no note value")]
    [InlineData("1:", "character 3:", "'' is no note value")]
    [InlineData("1 16", "character 3:", "16 is no degree")]
    [InlineData("1:8t 2 3:4", "character 10:", "triplet before it")]
    [InlineData("1:8t 2", "character 6:", "last triplet")]
    [InlineData("1 2 up", "character 5:", "how many steps")]
    [InlineData("1 2 up 99", "character 5:", "how many steps")]
    [InlineData("1 2 up 3 down 4", "character 15:", "cannot stand here")]
    [InlineData("1 2 down", "character 5:", "how many steps")]
    public void What_is_wrong_is_told_with_its_place(string text, string place, string what)
    {
        var problem = Assert.Single(DegreePattern.Read(text).Problems).ToString();
        Assert.Contains(place, problem);
        Assert.Contains(what, problem);
    }

    [Fact]
    public void No_text_breaks_the_reader() => Gen.String[Gen.Char["0123456789#b',:.t- updown♭♯é"], 0, 40].Sample(text =>
    {
        var read = DegreePattern.Read(text);
        if (!read.Succeeded) Assert.All(read.Problems, p => Assert.False(string.IsNullOrEmpty(p.Hint)));
        else Assert.NotEmpty(read.Value.On(Scale.Find("blues")!, Pitch.Parse("Bb2")));
    });

    [Fact]
    public void The_way_down_turns_the_way_up_over() => Gen.Select(Gen.Int[1, 7].Array[1, 6], Gen.Int[1, 8]).Sample((degrees, steps) =>
    {
        var figures = DegreePattern.Read($"{string.Join(' ', degrees)} up {steps} down").Value.On(Scale.Find("chromatic")!, Pitch.Parse("C3"));
        var (up, down) = (figures.Take(steps).SelectMany(f => f).Select(n => n.Pitch!.Value.Midi).ToList(), figures.Skip(steps).SelectMany(f => f).Select(n => n.Pitch!.Value.Midi).ToList());
        var turned = up.Min() + up.Max();
        Assert.Equal(up.Select(m => turned - m), down);
    });

    [Fact]
    public void A_pattern_that_cannot_be_read_is_told_before_anything_is_made()
    {
        var made = ExerciseMaker.Make(new ExerciseOrder { Kind = "pattern", Pattern = "1 two 3" }, Pupil.Of(Catalogue.Default));
        Assert.Contains("character 3", Assert.Single(made.Problems).ToString());
    }
}
