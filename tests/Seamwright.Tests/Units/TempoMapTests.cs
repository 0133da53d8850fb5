using CsCheck;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Units;

public class TempoMapTests
{
    private static readonly Gen<TempoMap> Maps = Gen.Select(Gen.Int[0, 40].Array[1, 6], Gen.Double[20, 300].Array[6], Gen.Int[1, 60].Array[0, 4], Gen.Double[0, 3].Array[4], (at, bpm, held, extra) =>
        new TempoMap(
            [.. at.Order().Select((a, i) => new TempoMark(new Beats(a, 2), bpm[i]))],
            [.. held.Select((h, i) => new Hold(new Beats(h, 2), new Seconds(extra[i])))]));

    [Fact]
    public void A_steady_tempo_is_a_straight_line() => Assert.Equal(7.5, TempoMap.Steady(120).At(new Beats(15, 1)).Value, 12);

    [Fact]
    public void Each_tempo_rules_from_its_mark_on_and_the_first_also_before_it()
    {
        var map = new TempoMap([new(new Beats(2, 1), 60), new(new Beats(4, 1), 120)]);

        Assert.Equal([0, 2, 4, 5], new[] { 0, 2, 4, 6 }.Select(b => map.At(new Beats(b, 1)).Value));
    }

    [Fact]
    public void A_hold_adds_its_time_just_before_its_place()
    {
        var map = new TempoMap([new(Beats.Zero, 60)], [new(new Beats(2, 1), new Seconds(1.5))]);

        Assert.Equal([1, 3.5, 4.5], new[] { 1, 2, 3 }.Select(b => map.At(new Beats(b, 1)).Value));
        Assert.Equal(2.5, map.Between(new Beats(1, 1), new Beats(2, 1)).Value);
    }

    [Fact]
    public void Time_never_runs_backward() => Gen.Select(Maps, Gen.Int[0, 200], Gen.Int[1, 50]).Sample((map, at, on) =>
        Assert.True(map.At(new Beats(at, 4)) < map.At(new Beats(at + on, 4))));

    [Fact]
    public void Spans_add_up() => Gen.Select(Maps, Gen.Int[0, 100], Gen.Int[0, 100], Gen.Int[0, 100]).Sample((map, a, b, c) =>
    {
        var (x, y, z) = (new Beats(a, 3), new Beats(a + b, 3), new Beats(a + b + c, 3));
        Assert.Equal(map.Between(x, z).Value, map.Between(x, y).Value + map.Between(y, z).Value, 1e-9);
    });

    [Fact]
    public void Twice_the_tempo_is_half_the_time() => Gen.Select(Maps, Gen.Int[0, 200]).Sample((map, at) =>
        Assert.Equal(map.At(new Beats(at, 4)).Value, 2 * map.Scaled(2).At(new Beats(at, 4)).Value, 1e-9));

    [Fact]
    public void Place_zero_is_time_zero() => Maps.Sample(map => Assert.Equal(0, map.At(Beats.Zero).Value, 12));

    [Theory]
    [InlineData(0)]
    [InlineData(1001)]
    [InlineData(double.NaN)]
    public void Impossible_tempos_are_a_bug_of_the_caller(double tempo) => Assert.Throws<ArgumentException>(() => TempoMap.Steady(tempo));

    [Fact]
    public void Marks_out_of_order_are_a_bug_of_the_caller() =>
        Assert.Throws<ArgumentException>(() => new TempoMap([new(new Beats(2, 1), 60), new(Beats.Zero, 60)]));
}
