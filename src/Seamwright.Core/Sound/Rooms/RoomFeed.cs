using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.Rooms;

/// <summary>A mono feed as it is heard in a room: straight, its first reflections, and the tail that rings on after it ended.</summary>
/// <remarks>The straight sound keeps its level and its time to the sample.</remarks>
public sealed class RoomFeed : SoundFeed
{
    private const int Most = 4096;

    private static readonly Seconds Closing = new(0.05);

    private readonly SoundFeed inner;
    private readonly DiffuseTail tail;
    private readonly ImmutableArray<(int Later, float Amplitude)> early;
    private readonly float[] past, block = new float[Most];
    private readonly long ring, closing;
    private int now;
    private long left;
    private bool ended;

    /// <param name="inner">Begun again by this one.</param>
    /// <param name="room">Where it is heard.</param>
    /// <exception cref="ArgumentException">The feed has two channels.</exception>
    public RoomFeed(SoundFeed inner, Room room)
        : base(inner.Rate, 1)
    {
        if (inner.Channels != 1) throw new ArgumentException("A room takes a feed of one channel.", nameof(inner));
        (this.inner, tail) = (inner, new DiffuseTail(room, inner.Rate));
        early = [.. Reflections.Of(room).Select(r => ((int)Math.Round(r.Later.Value * inner.Rate.Value), (float)r.Amplitude))];
        past = new float[early.IsEmpty ? 1 : early[^1].Later + 1];
        (ring, closing) = (inner.Rate.ToSamples(RingOf(room)), inner.Rate.ToSamples(Closing));
        Restart();
    }

    /// <summary>How long a room rings on after the sound: until it has fallen by 40 dB.</summary>
    public static Seconds RingOf(Room room) => 2.0 / 3 * room.Decay;

    /// <inheritdoc/>
    public override int Read(Span<float> interleaved)
    {
        var wanted = Math.Min(interleaved.Length, Most);
        var read = ended ? 0 : inner.Read(block.AsSpan(0, wanted));
        if (read == 0 && wanted > 0)
        {
            ended = true;
            read = (int)Math.Min(wanted, left);
            block.AsSpan(0, read).Clear();
        }

        for (var i = 0; i < read; i++)
        {
            interleaved[i] = Next(block[i]);
            if (!ended) continue;
            left--;
            if (left < closing) interleaved[i] *= left / (float)closing;
        }

        return read;
    }

    /// <inheritdoc/>
    public override void Restart()
    {
        inner.Restart();
        tail.Reset();
        Array.Clear(past);
        (now, left, ended) = (0, ring, false);
    }

    private float Next(float straight)
    {
        past[now] = straight;
        var sum = straight;
        foreach (var (later, amplitude) in early)
        {
            var at = now - later;
            sum += amplitude * past[at < 0 ? at + past.Length : at];
        }

        now = now + 1 == past.Length ? 0 : now + 1;
        return sum + (float)tail.Next(straight);
    }
}
