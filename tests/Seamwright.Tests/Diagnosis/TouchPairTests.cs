using System.Collections.Immutable;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Listening;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Diagnoses;

/// <summary>The air between touches, against invented tones whose difference is known.</summary>
public class TouchPairTests
{
    private const double Hop = 0.005;
    private const int Seeds = 300;

    [Theory] // From frames that know nothing of each other to air that wavers for a fifth of a second.
    [InlineData(0.0, 4, 0.6)]
    [InlineData(0.6, 4, 0.6)]
    [InlineData(0.9, 4, 0.6)]
    [InlineData(0.95, 8, 0.8)]
    [InlineData(0.97, 10, 1.0)]
    public void The_interval_holds_the_true_change_in_85_to_95_of_100_pairs(double memory, double seconds, double between)
    {
        var (level, pitch, bright) = (0, 0, 0);
        for (var seed = 0; seed < Seeds; seed++)
        {
            var a = Tone(seed, memory, seconds, between: 0, -20, 233, 3);
            var b = Tone(Seeds + seed, memory, seconds, between, -20.7, 233 * Math.Pow(2, 4 / 1200.0), 3.15);
            var air = TouchPair.Compare(a, b);
            if (Holds(air.Level!.Bounds.Low.Value, air.Level.Bounds.High.Value, -0.7)) level++;
            if (Holds(air.Pitch!.Bounds.Low.Value, air.Pitch.Bounds.High.Value, 4)) pitch++;
            if (Holds(air.BrightnessPercent!.Bounds.Low, air.BrightnessPercent.Bounds.High, 5)) bright++;
        }

        Assert.True(new[] { level, pitch, bright }.All(held => held / (double)Seeds is >= 0.85 and <= 0.95), $"level {level}, pitch {pitch}, brightness {bright} of {Seeds}");
    }

    private static bool Holds(double low, double high, double truth) => low <= truth && truth <= high;

    [Fact]
    public void Unchanged_air_is_said_to_be_unchanged()
    {
        var air = TouchPair.Compare(Tone(1, 0.6, 6, 0, -20, 233, 3), Tone(2, 0.6, 6, 0.6, -20.1, 233, 3));
        Assert.All(air.Findings, f => Assert.Equal(Verdict.Clean, f.Verdict));
        Assert.StartsWith("The air stayed the same with the touches: 0.", air.Sentence);
    }

    [Fact]
    public void Softer_air_is_blamed_with_its_figure_and_nothing_else_is()
    {
        var air = TouchPair.Compare(Tone(1, 0.6, 6, 0, -20, 233, 3), Tone(2, 0.6, 6, 0.6, -23, 233, 3));
        Assert.Equal([Verdict.AirChanged, Verdict.Clean, Verdict.Clean], air.Findings.Select(f => f.Verdict));
        Assert.InRange(air.Level!.Change.Value, -3.3, -2.7);
        Assert.Matches(@"^With the touches the tone became (2\.[7-9]|3\.[0-3]) dB softer \(-.* to -.*\): blow", air.Sentence);
    }

    [Fact]
    public void Air_that_wavers_too_much_is_left_open()
    {
        var air = TouchPair.Compare(Tone(1, 0.95, 6, 0, -20, 233, 3, spread: 1.5), Tone(2, 0.95, 6, 0.6, -21.1, 233, 3, spread: 1.5));
        Assert.Equal(Verdict.CannotTell, air.Findings[0].Verdict);
        Assert.StartsWith("Whether the air changed cannot be told", air.Sentence);
    }

    [Fact]
    public void The_dips_themselves_do_not_count()
    {
        var air = TouchPair.Compare(Tone(1, 0, 4, 0, -20, 233, 3), Tone(2, 0, 4, 0.4, -20, 233, 3));
        Assert.InRange(air.Level!.Change.Value, -0.15, 0.15);
        var counted = TouchPair.Compare(Tone(1, 0, 4, 0, -20, 233, 3), Tone(2, 0, 4, 0.4, -20, 233, 3) with { Touches = [] });
        Assert.True(counted.Level!.Change.Value < -1, counted.Sentence);
    }

    [Fact]
    public void Too_short_a_tone_is_not_compared()
    {
        var air = TouchPair.Compare(Tone(1, 0, 0.35, 0, -20, 233, 3), Tone(2, 0, 4, 0.6, -20, 233, 3));
        Assert.Null(air.Level);
        Assert.Empty(air.Findings);
        Assert.Contains("too short", air.Sentence);
    }

    [Theory] // Student's distribution, 95 %: Abramowitz and Stegun, table 26.10.
    [InlineData(3, 2.353)]
    [InlineData(5, 2.015)]
    [InlineData(10, 1.812)]
    [InlineData(30, 1.697)]
    [InlineData(120, 1.658)]
    public void The_quantile_is_that_of_the_tables(double freedom, double expected) =>
        Assert.Equal(expected, Welch.Quantile95(freedom), 0.012);

    // Level, pitch and brightness waver like a first-order autoregression; touches dip 12 dB for 60 ms.
    private static HeardTone Tone(int seed, double memory, double seconds, double between, double level, double hertz, double brightness, double spread = 0.5)
    {
        var random = new Random(seed);
        var count = (int)(seconds / Hop);
        double[] a = Wavering(random, memory, count), b = Wavering(random, memory, count), c = Wavering(random, memory, count);
        var touches = between == 0 ? [] : Enumerable.Range(1, Math.Max(0, (int)(seconds / between) - 1)).Select(k => new Seconds(k * between)).ToImmutableArray();
        double Dip(double t) => touches.Any(x => Math.Abs(x.Value - t) < 0.03) ? 12 : 0;
        return new HeardTone
        {
            From = new(0),
            To = new(seconds),
            Touches = touches,
            Track = new Track
            {
                Start = new(0),
                Hop = new(Hop),
                Frames = [.. Enumerable.Range(0, count).Select(i => new Frame(new Hertz(hertz * Math.Pow(2, 3 * b[i] / 1200)), new(level + (spread * a[i]) - Dip(i * Hop)), 0.97f))],
            },
            Brightness = [.. c.Select(x => (double?)(brightness * Math.Exp(0.03 * x)))],
        };
    }

    private static double[] Wavering(Random random, double memory, int count)
    {
        var x = new double[count];
        var last = Normal(random);
        for (var i = 0; i < count; i++) x[i] = last = (memory * last) + (Math.Sqrt(1 - (memory * memory)) * Normal(random));
        return x;
    }

    private static double Normal(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
