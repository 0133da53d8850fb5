using System.Numerics;
using Seamwright.Core.Listening;

namespace Seamwright.Tests.Listening;

/// <summary>Rooms are drawn partial by partial: what they hold of the note before the dip, of the dip itself, and the tone meet with random phases.</summary>
public class FilledDipTests
{
    private const int Partials = 4;
    private const int Rooms = 2000;

    [Theory]
    [InlineData(3, 0.3, 0.1, 0.05)]
    [InlineData(6, 0.3, 0.1, 0.05)]
    [InlineData(6, 0.4, 0.24, 0.05)]
    [InlineData(12, 0.3, 0.1, 0.06)]
    [InlineData(18, 0.5, 0.03, 0.04)]
    public void The_interval_holds_the_depth_that_was_played(double depth, double seconds, double share, double width)
    {
        var room = new Decay(seconds, share) { IsHeardInside = true };
        foreach (var beside in (bool[])[true, false])
        {
            var held = 0;
            var random = new Random(11);
            for (var i = 0; i < Rooms; i++)
            {
                var (low, high) = new FilledDip(room, Partials, width, beside).Around(Read(depth, room, width, beside, random));
                if (low <= depth + 0.25 && depth - 0.25 <= high) held++;
            }

            Assert.InRange(held / (double)Rooms, 0.8, 1);
        }
    }

    [Fact]
    public void Beside_the_turn_a_shallow_dip_is_known_better_than_about_it()
    {
        var room = new Decay(0.3, 0.15) { IsHeardInside = true };
        var (beside, about) = (new FilledDip(room, Partials, 0.05, true).Around(6), new FilledDip(room, Partials, 0.05, false).Around(6));
        Assert.True(beside.Low > 3, $"{beside.Low}");
        Assert.True(about.Low < 3, $"{about.Low}");
        Assert.True(beside.High - beside.Low < about.High - about.Low);
    }

    [Fact]
    public void A_silence_as_long_as_the_dip_is_ruled_out_only_where_the_tail_has_died_away()
    {
        Assert.True(new FilledDip(new Decay(0.4, 0.24), Partials, 0.03, false).Around(9).High > 20);
        Assert.True(new FilledDip(new Decay(0.2, 0.02), Partials, 0.03, false).Around(9).High < 20);
    }

    // Depth as it is fitted through the room's mean answer.
    private static double Read(double depth, Decay room, double width, bool beside, Random random)
    {
        var own = Math.Pow(10, -depth / 20);
        var older = Math.Pow(10, -6 * (width / 2) / room.Seconds60);
        var tone = Math.Sqrt(1 - room.Share);
        var (shown, steady) = (0.0, 0.0);
        for (var k = 0; k < Partials; k++)
        {
            var (before, recent) = (Drawn(room.Share * older), Drawn(room.Share * (1 - older)));
            shown += Magnitude((own * tone) + before + (own * recent));
            steady += Magnitude(tone + (beside ? before + recent : Drawn(room.Share)));
        }

        var power = Math.Clamp(shown / steady, 1e-7, 1);
        return -10 * Math.Log10(Math.Clamp((power - (room.Share * older)) / (1 - (room.Share * older)), 1e-7, 1));

        Complex Drawn(double of) => Complex.FromPolarCoordinates(Math.Sqrt(-of * Math.Log(1 - random.NextDouble())), 2 * Math.PI * random.NextDouble());
    }

    private static double Magnitude(Complex of) => (of.Real * of.Real) + (of.Imaginary * of.Imaginary);
}
