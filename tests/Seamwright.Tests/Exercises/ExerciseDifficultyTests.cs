using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Tests.Planning;

namespace Seamwright.Tests.Exercises;

public class ExerciseDifficultyTests
{
    [Fact]
    public void A_quicker_lip_slur_is_harder() =>
        Assert.True(Of("Bb2~ F3~ Bb2~ F3", 60) < Of("Bb2~ F3~ Bb2~ F3", 120));

    [Fact]
    public void A_move_during_a_breath_does_not_count()
    {
        Assert.Equal(Of("Bb2~ F3", 60), Of("Bb2~ F3' E3", 60));
        Assert.NotEqual(Of("Bb2~ F3", 60), Of("Bb2~ F3~ E3", 60));
    }

    private static double Of(string line, double tempo) => ExerciseDifficulty.Of(Planner.Plan(TestLines.Of(line, tempo), Catalogue.Find("tenor-straight")!).Value);
}
