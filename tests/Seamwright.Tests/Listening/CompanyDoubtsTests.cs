using Seamwright.Core.Listening;

namespace Seamwright.Tests.Listening;

/// <summary>Whatever the phase in which two tones meet, what the player did lies within what is told.</summary>
public class CompanyDoubtsTests
{
    private const double Note = -20, Centre = 0.3, Half = 0.04;
    private static readonly SteadyNote Tone = new(0, 0.2, 233, Note);

    [Fact]
    public void Nothing_changes_where_nobody_else_sounds_or_only_far_below()
    {
        var heard = Heard(12);
        Assert.Same(heard, new CompanyDoubts(null).Added(heard, Curve(12), Tone, Tone, Centre));
        Assert.Same(heard, new CompanyDoubts(Other(36)).Added(heard, Curve(12), Tone, Tone, Centre));
        Assert.NotSame(heard, new CompanyDoubts(Other(34)).Added(heard, Curve(12), Tone, Tone, Centre));
    }

    [Theory]
    [InlineData(12, 20)]
    [InlineData(6, 12)]
    [InlineData(18, 26)]
    [InlineData(25, 20)]
    public void The_true_depth_lies_within_what_is_told_in_every_phase(double depth, double below)
    {
        var s = Math.Pow(10, -below / 20);
        for (var before = 0.0; before < 2 * Math.PI; before += 0.3)
        {
            for (var at = 0.0; at < 2 * Math.PI; at += 0.3)
            {
                var seen = 20 * Math.Log10(Met(1, s, before) / Met(Math.Pow(10, -depth / 20), s, at));
                if (seen <= 0.1) continue;
                var told = new CompanyDoubts(Other(below)).Added(Heard(seen), Curve(seen), Tone, Tone, Centre).DipBounds!.Value;
                Assert.InRange(depth, told.Low.Value - 1e-6, told.High.Value + 1e-6);
            }
        }
    }

    [Fact]
    public void Where_the_level_falls_to_the_other_sound_the_way_is_not_known()
    {
        var open = new CompanyDoubts(Other(20)).Added(Heard(18), Curve(18), Tone, Tone, Centre);
        Assert.True(open.IsCovered);
        Assert.Null(open.Broke);
        Assert.True(open.GlideBounds!.Value.High.Value > 1);
        var clear = new CompanyDoubts(Other(30)).Added(Heard(12), Curve(12), Tone, Tone, Centre);
        Assert.False(clear.IsCovered);
        Assert.True(clear.Broke);
        Assert.InRange(clear.GlideBounds!.Value.High.Milliseconds, 40, 60);
    }

    [Fact]
    public void A_silence_that_the_other_sound_fills_is_as_long_as_it_may_be()
    {
        var told = new CompanyDoubts(Other(15)).Added(Heard(14), Curve(14), Tone, Tone, Centre).EarGapInterval!.Value;
        Assert.Equal(0, told.Low.Value);
        Assert.True(told.High.Milliseconds > 20);
    }

    private static double Met(double one, double other, double phase) => Math.Sqrt((one * one) + (other * other) + (2 * one * other * Math.Cos(phase)));

    private static OtherSound Other(double below) => new(Note - below, below, null, 4, 4, 0, 1);

    private static HeardChange Heard(double depth) => new()
    {
        Index = 0,
        Found = true,
        Dip = new(depth),
        DipWidth = new(Half),
        DipCentre = new(Centre),
        Gap = new(0),
        EarGap = new(0),
        Below10 = new(0.01),
        Glide = new(0.04),
        GlideCentre = new(Centre),
        GlideBounds = new(new(0.038), new(0.042)),
        Broke = true,
        Overshoot = new(0),
    };

    private static ChangeCurve Curve(double depth)
    {
        var curve = new ChangeCurve(0, 700);
        for (var i = 0; i < curve.Count; i++)
        {
            var off = Math.Abs(curve.Time(i) - Centre);
            (curve.Hz[i], curve.Strength[i], curve.Window[i]) = (233, 1, 0.013);
            curve.Db[i] = Note - (off < Half ? depth * (1 + Math.Cos(Math.PI * off / Half)) / 2 : 0);
        }

        return curve;
    }
}
