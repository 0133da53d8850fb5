using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Midi;

/// <summary>A bar of the file, for all parts.</summary>
/// <param name="Start">From the start of the file.</param>
/// <param name="Length">Shorter than its meter where a new meter begins inside it.</param>
/// <param name="Meter">In force.</param>
/// <param name="Key">In force.</param>
internal sealed record GridBar(Beats Start, Beats Length, Meter Meter, KeySignature Key)
{
    public Beats End => Start + Length;

    public List<TempoText> Tempos { get; } = [];
}

/// <summary>The bars of a file, from its time and key signatures.</summary>
internal static class BarGrid
{
    // Places of changes are rounded to this part of a quarter note.
    private const int Finest = 16;

    /// <summary>Bars up to the end of the music.</summary>
    /// <param name="song">Its signatures and tempos.</param>
    /// <param name="key">The key before the first key signature.</param>
    /// <param name="end">Where the last note ends.</param>
    /// <param name="limits">Bound the number of bars.</param>
    /// <exception cref="LimitException">There are more bars than the limit.</exception>
    public static List<GridBar> Of(MidiSong song, KeySignature key, Beats end, ReadLimits limits)
    {
        var meters = new Queue<(Beats At, Meter Meter)>(song.Meters.Select(m => (Place(m.Tick, song), m.Meter)));
        var keys = new Queue<(Beats At, KeySignature Key)>(song.Keys.Select(k => (Place(k.Tick, song), k.Key)));
        var bars = new List<GridBar>();
        var (meter, start) = (Meter.CommonTime, Beats.Zero);
        while (start < end || bars.Count == 0)
        {
            if (bars.Count >= limits.MostBars) throw new LimitException($"holds more than {limits.MostBars} bars.");
            while (meters.TryPeek(out var m) && m.At <= start) meter = meters.Dequeue().Meter;
            while (keys.TryPeek(out var k) && k.At <= start) key = keys.Dequeue().Key;
            var length = meter.BarLength;
            if (meters.TryPeek(out var next) && next.At < start + length) length = next.At - start;
            bars.Add(new GridBar(start, length, meter, key));
            start += length;
        }

        AddTempos(song, bars);
        return bars;
    }

    private static Beats Place(long tick, MidiSong song) => new(((2 * tick * Finest) + song.TicksPerQuarter) / (2L * song.TicksPerQuarter), Finest);

    // A slowing down is a crowd of small changes: one a sixteenth is followed, and the first alone is printed.
    private static void AddTempos(MidiSong song, List<GridBar> bars)
    {
        var (bar, last) = (0, 0.0);
        foreach (var group in song.Tempos.GroupBy(t => new Beats(4 * t.Tick / song.TicksPerQuarter, 4)))
        {
            var tempo = group.Last().QuartersPerMinute;
            while (bar < bars.Count && bars[bar].End <= group.Key) bar++;
            if (bar >= bars.Count) return;
            if (tempo != last) bars[bar].Tempos.Add(new TempoText(group.Key - bars[bar].Start, tempo, "", last == 0 ? NoteValue.Quarter : null));
            last = tempo;
        }
    }
}
