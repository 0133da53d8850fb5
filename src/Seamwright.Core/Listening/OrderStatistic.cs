namespace Seamwright.Core.Listening;

/// <summary>The value at a place in the order of size, without sorting or copying: an hour's frames are megabytes.</summary>
/// <remarks>Radix selection, eight bits at a time: doubles are ordered as their bits are, once the sign is turned. Tested against sorting.</remarks>
internal static class OrderStatistic
{
    private const int Digit = 8;

    /// <summary>The value that would stand at a place if all were sorted.</summary>
    /// <param name="values">The same ones each time it is gone through; no NaN.</param>
    /// <param name="rank">From 0, less than their number.</param>
    public static double At(IEnumerable<double> values, int rank)
    {
        var counts = new int[1 << Digit];
        var (prefix, mask) = (0UL, 0UL);
        for (var shift = 64 - Digit; shift >= 0; shift -= Digit)
        {
            Array.Clear(counts);
            foreach (var value in values)
            {
                var key = KeyOf(value);
                if ((key & mask) == prefix) counts[(key >> shift) & 0xFF]++;
            }

            var digit = 0;
            while (rank >= counts[digit]) rank -= counts[digit++];
            prefix |= (ulong)digit << shift;
            mask |= 0xFFUL << shift;
        }

        return ValueOf(prefix);
    }

    /// <summary>The middle one, of two the greater.</summary>
    /// <param name="values">At least one; no NaN.</param>
    public static double Median(IEnumerable<double> values)
    {
        double[] all = [.. values];
        return At(all, all.Length / 2);
    }

    private static ulong KeyOf(double value)
    {
        var bits = BitConverter.DoubleToUInt64Bits(value);
        return (bits >> 63) == 1 ? ~bits : bits | (1UL << 63);
    }

    private static double ValueOf(ulong key) => BitConverter.UInt64BitsToDouble((key >> 63) == 1 ? key & ~(1UL << 63) : ~key);
}
