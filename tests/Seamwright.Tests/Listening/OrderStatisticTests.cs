using Seamwright.Core.Listening;

namespace Seamwright.Tests.Listening;

public class OrderStatisticTests
{
    [Fact]
    public void The_value_at_every_place_is_that_of_the_sorted_ones()
    {
        var random = new Random(5);
        double[] values = [.. Enumerable.Range(0, 500).Select(_ => Math.Round(200 * (random.NextDouble() - 0.5), 1)), 0, -120, -120, 1e-300, -1e300, double.PositiveInfinity];
        var sorted = values.Order().ToArray();
        for (var i = 0; i < values.Length; i++) Assert.Equal(sorted[i], OrderStatistic.At(values, i));
    }
}
