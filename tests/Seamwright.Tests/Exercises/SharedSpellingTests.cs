using Seamwright.Core.Exercises;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Exercises;

public class SharedSpellingTests
{
    [Theory]
    [InlineData("Bb3 F#3", "Bb3 Gb3")]
    [InlineData("Db3 E3", "C#3 E3")]
    [InlineData("F#3 Db4 F#4 Bb4", "Gb3 Db4 Gb4 Bb4")]
    [InlineData("E2 B2 E3 Ab3", "E2 B2 E3 G#3")]
    [InlineData("B3 Bb3", "B3 A#3")]
    [InlineData("A2 Db3", "A2 C#3")]
    public void Notes_together_are_spelled_as_they_are_read(string sounding, string spelled) =>
        Assert.Equal(spelled, string.Join(' ', Spelling.Together([.. sounding.Split(' ').Select(Pitch.Parse)])));

    [Fact]
    public void No_spelling_changes_the_sound_or_is_awkward_for_two_notes()
    {
        for (var a = 28; a < 78; a++)
        {
            for (var b = a - 12; b <= a + 12; b++)
            {
                var pair = Spelling.Together(Pitch.FromMidi(a), Pitch.FromMidi(b));
                Assert.Equal([a, b], pair.Select(p => p.Midi));
                Assert.All(pair, p => Assert.False((p.Step, p.Alter) is (Step.C or Step.F, -1) or (Step.E or Step.B, 1) || Math.Abs(p.Alter) > 1, $"{a} {b}: {p}"));
            }
        }
    }
}
