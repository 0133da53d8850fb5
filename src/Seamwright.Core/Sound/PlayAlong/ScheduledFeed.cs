namespace Seamwright.Core.Sound.PlayAlong;

/// <summary>One layer of a play-along, mono, as long as its schedule.</summary>
internal abstract class ScheduledFeed(Schedule schedule) : SoundFeed(schedule.Rate, 1)
{
    private long now;

    protected Schedule Schedule { get; } = schedule;

    public sealed override int Read(Span<float> interleaved)
    {
        var block = interleaved[..(int)Math.Min(interleaved.Length, Schedule.Length - now)];
        block.Clear();
        if (!block.IsEmpty) Add(now, block);
        now += block.Length;
        return block.Length;
    }

    public sealed override void Restart()
    {
        now = 0;
        Begin();
    }

    /// <summary>Adds this layer's sound to a block.</summary>
    /// <param name="at">The block's first sample; each block follows the one before it.</param>
    /// <param name="block">Zeros.</param>
    protected abstract void Add(long at, Span<float> block);

    /// <summary>Everything as before the first sample.</summary>
    protected abstract void Begin();
}
