namespace Seamwright.Core.Listening;

/// <summary>The part of an endless row of samples that is still needed, addressed by absolute index.</summary>
internal sealed class SlidingBuffer
{
    private float[] kept = new float[4096];
    private long first;
    private int count;

    /// <summary>Samples ever appended.</summary>
    public long Length => first + count;

    /// <summary>Oldest sample still kept.</summary>
    public long First => first;

    public void Append(ReadOnlySpan<float> samples) => samples.CopyTo(Room(samples.Length));

    /// <summary>Appends so many samples, to be filled by the caller before anything else is asked.</summary>
    public Span<float> Room(int samples)
    {
        if (count + samples > kept.Length) Array.Resize(ref kept, Math.Max(kept.Length * 2, count + samples));
        count += samples;
        return kept.AsSpan(count - samples, samples);
    }

    /// <summary>Everything from an index on.</summary>
    public ReadOnlySpan<float> From(long index) => kept.AsSpan((int)(index - first), (int)(Length - index));

    /// <summary>A stretch that must still be kept.</summary>
    public ReadOnlySpan<float> Slice(long from, int length) => kept.AsSpan((int)(from - first), length);

    /// <summary>Copies a stretch; what lies outside the kept samples is silence.</summary>
    public void CopyTo(long from, Span<float> block)
    {
        block.Clear();
        var start = Math.Max(first, from);
        var end = Math.Min(Length, from + block.Length);
        if (end > start) Slice(start, (int)(end - start)).CopyTo(block[(int)(start - from)..]);
    }

    /// <summary>Forgets what lies before an index; moves memory only once half of it is stale.</summary>
    public void Forget(long before)
    {
        var stale = (int)Math.Min(count, before - first);
        if (stale < 4096 || stale * 2 < count) return;
        kept.AsSpan(stale, count - stale).CopyTo(kept);
        first += stale;
        count -= stale;
    }
}
