using System.Numerics;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores;

/// <summary>From a length in time to the note shapes that write it.</summary>
public static class Shapes
{
    private static readonly NoteValue Smallest = new(8);

    private const int LargestTuplet = 63;
    private const int MostPieces = 64;

    /// <summary>The one shape, dots and tuplet that lasts exactly so long; null where there is none.</summary>
    public static NoteValue? Exact(Beats length)
    {
        if (length <= Beats.Zero) return null;
        var (odd, _) = Factors(length.Denominator);
        if (odd == 1) return Plain(length, 1, 1);
        if (odd > LargestTuplet) return null;
        var (actual, normal) = ((int)odd, PowerBelow((int)odd));
        return Plain(length.Times(actual, normal), actual, normal);
    }

    /// <summary>The one shape to draw for a length: the exact one, else the largest plain one that is not longer.</summary>
    public static NoteValue Nearest(Beats length)
    {
        if (Exact(length) is { } exact) return exact;
        for (var shape = -1; shape < 8; shape++)
        {
            if (new NoteValue(shape).Duration <= length) return new NoteValue(shape);
        }

        return Smallest;
    }

    /// <summary>Whether a shape may be drawn for a length: they differ by less than the smallest shape.</summary>
    public static bool IsNear(NoteValue shape, Beats length)
    {
        var off = shape.Duration - length;
        return off < Smallest.Duration && -off < Smallest.Duration;
    }

    /// <summary>Plain shapes that follow one another through a gap, cut where the beat wants it.</summary>
    /// <param name="offset">Where the gap begins in its bar.</param>
    /// <param name="length">How long it is.</param>
    /// <returns>May fall short by less than the smallest shape; never longer than the gap.</returns>
    public static IReadOnlyList<NoteValue> Fill(Beats offset, Beats length)
    {
        var pieces = new List<NoteValue>();
        var end = offset + length;
        while (offset < end && pieces.Count < MostPieces && Next(offset, end) is { } piece)
        {
            pieces.Add(piece);
            offset += piece.Duration;
        }

        return pieces;
    }

    private static NoteValue? Next(Beats offset, Beats end)
    {
        var left = end - offset;
        var odd = BigInteger.Max(Factors(offset.Denominator).Odd, Factors(left.Denominator).Odd);
        var wholeBeats = new Beats(left.Numerator / left.Denominator, 1);

        // From a beat on, whole beats are plain even where the gap ends inside a tuplet.
        var plain = odd == 1 || odd > LargestTuplet || (Factors(offset.Denominator).Odd == 1 && wholeBeats > Beats.Zero);
        if (plain && odd > 1 && odd <= LargestTuplet) left = wholeBeats;
        if (plain) odd = 1;
        var (actual, normal) = odd == 1 ? (1, 1) : ((int)odd, PowerBelow((int)odd));

        // Inside a tuplet no shape goes beyond the beat that ends it.
        var room = odd == 1 ? left : Min(left, ToNextBeat(offset));
        NoteValue? unaligned = null;
        for (var shape = -1; shape <= 8; shape++)
        {
            var value = new NoteValue(shape, 0, actual, normal);
            if (value.Duration > room) continue;
            if (IsMultiple(offset, value.Duration)) return value;
            unaligned ??= value;
        }

        return unaligned;
    }

    private static NoteValue? Plain(Beats length, int actual, int normal)
    {
        var (oddBelow, twosBelow) = Factors(length.Denominator);
        var (oddAbove, twosAbove) = Factors(length.Numerator);
        int? dots = oddAbove == 1 ? 0 : oddAbove == 3 ? 1 : oddAbove == 7 ? 2 : oddAbove == 15 ? 3 : null;
        if (oddBelow != 1 || dots is not { } d) return null;
        var shape = 2 - (twosAbove - twosBelow + d);
        return shape is >= -1 and <= 8 ? new NoteValue(shape, d, actual, normal) : null;
    }

    private static (BigInteger Odd, int Twos) Factors(BigInteger n)
    {
        var twos = 0;
        while (n > 0 && n.IsEven)
        {
            n >>= 1;
            twos++;
        }

        return (n, twos);
    }

    private static int PowerBelow(int n) => 1 << (BitOperations.Log2((uint)n - 1));

    private static Beats ToNextBeat(Beats offset) => new Beats((offset.Numerator / offset.Denominator) + 1, 1) - offset;

    private static bool IsMultiple(Beats a, Beats b) => (a.Numerator * b.Denominator % (a.Denominator * b.Numerator)).IsZero;

    private static Beats Min(Beats a, Beats b) => a < b ? a : b;
}
