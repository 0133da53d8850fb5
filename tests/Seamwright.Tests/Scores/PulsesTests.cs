using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Scores;

public class PulsesTests
{
    // Strength and length in quarter notes: D downbeat, G group, b beat.
    [Theory]
    [InlineData(4, 4, "", "D1 b1 G1 b1")]
    [InlineData(3, 4, "", "D1 b1 b1")]
    [InlineData(2, 2, "", "D2 b2")]
    [InlineData(6, 8, "", "D3/2 b3/2")]
    [InlineData(12, 8, "", "D3/2 b3/2 G3/2 b3/2")]
    [InlineData(3, 8, "", "D1/2 b1/2 b1/2")]
    [InlineData(5, 4, "2+3", "D1 b1 G1 b1 b1")]
    [InlineData(5, 4, "", "D1 b1 b1 G1 b1")]
    [InlineData(7, 8, "3+2+2", "D3/2 b1 b1")]
    [InlineData(7, 8, "", "D1 b1 b3/2")]
    [InlineData(1, 4, "", "D1")]
    public void A_meter_is_counted_as_conductors_show_it(int beats, int unit, string groups, string expected)
    {
        var meter = new Meter(beats, unit);
        if (groups.Length > 0) meter = meter.Grouped([.. groups.Split('+').Select(int.Parse)]);
        Assert.Equal(expected, string.Join(' ', Pulses.Of(meter).Select(p => $"{"DGb"[(int)p.Strength]}{p.Length}")));
    }

    [Fact]
    public void Every_meter_is_filled_without_gaps()
    {
        foreach (var unit in new[] { 1, 2, 4, 8, 16, 32, 64 })
        {
            for (var beats = 1; beats <= 64; beats++)
            {
                var at = Beats.Zero;
                foreach (var pulse in Pulses.Of(new Meter(beats, unit)))
                {
                    Assert.Equal(at, pulse.Offset);
                    at += pulse.Length;
                }

                Assert.Equal(new Meter(beats, unit).BarLength, at);
            }
        }
    }
}
