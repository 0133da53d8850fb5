namespace Seamwright.Audio.Mpeg;

/// <summary>A queue that keeps its last samples back until it is known whether they are sound.</summary>
internal sealed class HeldBack(int keep)
{
    private float[] queue = new float[8192];
    private int start, end;
    private int kept = keep;

    public void Put(ReadOnlySpan<float> samples)
    {
        if (end + samples.Length > queue.Length) MakeRoom(samples.Length);
        samples.CopyTo(queue.AsSpan(end));
        end += samples.Length;
    }

    /// <summary>Gives what need not be kept.</summary>
    public int Take(Span<float> target)
    {
        var count = Math.Min(target.Length, Math.Max(0, end - start - kept));
        queue.AsSpan(start, count).CopyTo(target);
        start += count;
        return count;
    }

    /// <summary>Nothing more comes: the rest is given, or dropped.</summary>
    public void End(bool dropRest)
    {
        if (dropRest) end = Math.Max(start, end - kept);
        kept = 0;
    }

    private void MakeRoom(int more)
    {
        var length = end - start;
        var target = length + more > queue.Length ? new float[2 * (length + more)] : queue;
        queue.AsSpan(start, length).CopyTo(target);
        (queue, start, end) = (target, 0, length);
    }
}
