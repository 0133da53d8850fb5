using Seamwright.Core.Diagnosis;
using Seamwright.Core.Listening;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Diagnoses;

public class DipFigureTests
{
    [Theory]
    [InlineData(12.4, 10.0, 15.0, "12 dB")]
    [InlineData(58.8, 17.5, 70.0, ">18 dB")]
    [InlineData(45.0, 40.0, 52.0, "45 dB")]
    public void A_dip_that_may_have_no_bottom_is_told_by_what_it_is_deeper_than(double depth, double low, double high, string said)
    {
        var heard = VerdictCases.Touched(depth) with { DipBounds = new Bounds<Decibels>(new(low), new(high)) };
        Assert.Equal(said, DipFigure.Of(heard));
    }

    [Fact]
    public void A_silence_that_is_sure_is_deeper_than_its_limit()
    {
        var heard = VerdictCases.Touched(40) with { DipBounds = new Bounds<Decibels>(new(9), new(70)), EarGapInterval = (new(0.012), new(0.05)) };
        Assert.Equal(">20 dB", DipFigure.Of(heard));
    }

    [Fact]
    public void None_is_a_dash() => Assert.Equal("-", DipFigure.Of(new HeardChange { Index = 0, Found = false }));
}
