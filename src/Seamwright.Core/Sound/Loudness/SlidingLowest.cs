namespace Seamwright.Core.Sound.Loudness;

/// <summary>The lowest of the last values.</summary>
/// <remarks>A queue of those that may yet be the lowest, rising: each value enters and leaves once (Lemire, "Streaming
/// maximum-minimum filter", Nordic J. Comput. 13 (2006) 328–339). Its slow equivalent is a search through the window.</remarks>
/// <param name="length">How many.</param>
internal sealed class SlidingLowest(int length)
{
    private readonly (long At, double Value)[] queue = new (long, double)[length];
    private long count, first, end;

    public double Next(double value)
    {
        while (end > first && queue[(end - 1) % length].Value >= value) end--;
        if (end > first && queue[first % length].At <= count - length) first++;
        queue[end++ % length] = (count++, value);
        return queue[first % length].Value;
    }
}
