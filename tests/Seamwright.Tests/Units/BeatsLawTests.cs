using System.Numerics;
using CsCheck;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Units;

public class BeatsLawTests
{
    private static readonly Gen<Beats> Some = Gen.Select(Gen.Int[-10_000, 10_000], Gen.Int[1, 960], (n, d) => new Beats(n, d));

    private static readonly Gen<(int, int)> Tuplets = Gen.Int[0, 4].Select(i => new[] { (1, 1), (3, 2), (5, 4), (7, 4), (9, 8) }[i]);

    private static readonly Gen<int> Units = Gen.Int[0, 6].Select(i => new[] { 1, 2, 3, 4, 6, 8, 12 }[i]);

    [Fact]
    public void Addition_has_its_laws() => Gen.Select(Some, Some, Some).Sample((a, b, c) =>
    {
        Assert.Equal(a + b, b + a);
        Assert.Equal(a + b + c, a + (b + c));
        Assert.Equal(a, a + b - b);
        Assert.Equal(Beats.Zero, a + -a);
    });

    [Fact]
    public void Multiples_and_parts_undo_one_another_exactly() => Gen.Select(Some, Gen.Int[1, 1000]).Sample((a, k) =>
    {
        Assert.Equal(a, a / k * k);
        Assert.Equal(a, a.Times(k, 7).Times(7, k));
    });

    [Fact]
    public void Equal_values_are_equal_however_they_are_written() => Gen.Select(Some, Gen.Int[1, 100]).Sample((a, k) =>
    {
        var same = new Beats(a.Numerator * k, a.Denominator * k);
        Assert.True(a == same && a.GetHashCode() == same.GetHashCode() && a.CompareTo(same) == 0);
        Assert.True(BigInteger.GreatestCommonDivisor(a.Numerator, a.Denominator).IsOne);
    });

    [Fact]
    public void Order_agrees_with_subtraction() => Gen.Select(Some, Some).Sample((a, b) => Assert.Equal(a < b, a - b < Beats.Zero));

    [Fact]
    public void What_is_printed_is_read_again() => Some.Sample(a => Assert.True(Beats.TryParse(a.ToString(), out var read) && read == a));

    [Theory]
    [InlineData("")]
    [InlineData("1/0")]
    [InlineData("1/-2")]
    [InlineData("1/2/3")]
    [InlineData("x")]
    [InlineData("1.5")]
    public void What_is_no_fraction_is_refused(string text) => Assert.False(Beats.TryParse(text, out _));

    [Fact]
    public void A_default_value_is_zero() => Assert.Equal((Beats.Zero, "0"), (default(Beats), default(Beats).ToString()));

    [Fact]
    public void A_thousand_triplets_fill_their_bars_exactly() =>
        Assert.Equal(new Beats(1000, 3), Enumerable.Repeat(new NoteValue(3, 0, 3, 2).Duration, 1000).Aggregate(Beats.Zero, (a, b) => a + b));

    [Theory]
    [InlineData(-1, 0, "8")]
    [InlineData(0, 1, "6")]
    [InlineData(2, 2, "7/4")]
    [InlineData(2, 3, "15/8")]
    [InlineData(8, 0, "1/64")]
    public void A_shape_lasts_what_its_dots_say(int shape, int dots, string expected) => Assert.Equal(expected, new NoteValue(shape, dots).Duration.ToString());

    [Fact]
    public void Every_shape_is_found_again_from_its_length() => Gen.Select(Gen.Int[-1, 8], Gen.Int[0, 3], Tuplets).Sample((shape, dots, tuplet) =>
    {
        var length = new NoteValue(shape, dots, tuplet.Item1, tuplet.Item2).Duration;

        // Dots inside a tuplet may give a length that only two shapes can write, such as 5/2.
        var found = Shapes.Exact(length);
        if (found is null) Assert.True(tuplet != (1, 1) && dots > 0);
        else Assert.Equal(length, found.Value.Duration);
    });

    [Fact]
    public void Rests_fill_a_gap_without_going_beyond_it() => Gen.Select(Gen.Int[0, 48], Gen.Int[1, 96], Units).Sample((offset, length, unit) =>
    {
        var (from, size) = (new Beats(offset, unit), new Beats(length, unit));
        Assert.Equal(size, Shapes.Fill(from, size).Aggregate(Beats.Zero, (a, v) => a + v.Duration));
    });
}
