using Seamwright.Core.Scores.Assembling;

namespace Seamwright.Core.Scores.Midi;

/// <summary>A key that was held down.</summary>
/// <param name="On">Tick.</param>
/// <param name="Off">Tick, later than <paramref name="On"/>.</param>
/// <param name="Key">MIDI note number.</param>
internal readonly record struct HeldKey(long On, long Off, int Key);

/// <summary>The notes of one channel of one track.</summary>
/// <param name="Name">For the part.</param>
/// <param name="Keys">In order of onset.</param>
/// <param name="Lyrics">By tick.</param>
internal sealed record MidiLine(string Name, IReadOnlyList<HeldKey> Keys, IReadOnlyDictionary<long, string> Lyrics);

/// <summary>Tracks sorted into lines of notes and what holds for all of them.</summary>
internal sealed class MidiSong
{
    // General MIDI keeps the tenth channel for percussion.
    private const int Percussion = 9;

    private readonly MidiTracks tracks;
    private readonly ReadLimits limits;
    private readonly ProblemLog log;
    private int notes;

    public MidiSong(MidiTracks tracks, string fileName, ReadLimits limits, ProblemLog log)
    {
        (this.tracks, this.limits, this.log) = (tracks, limits, log);
        foreach (var e in tracks.Tracks.SelectMany(t => t).OrderBy(e => e.Tick)) TakeShared(e, fileName);
        Title = tracks.Tracks.Count > 0 && (tracks.Tracks.Count == 1 || !tracks.Tracks[0].Any(e => e.IsNoteOn)) ? NameOf(0) : "";
        for (var i = 0; i < tracks.Tracks.Count; i++) AddLines(i);
        if (Lines.Count > limits.MostParts) throw new LimitException($"holds more than {limits.MostParts} lines of notes.");
    }

    public string Title { get; }

    public string Rights { get; private set; } = "";

    public List<MidiLine> Lines { get; } = [];

    /// <summary>Quarter notes a minute by tick, ascending.</summary>
    public List<(long Tick, double QuartersPerMinute)> Tempos { get; } = [];

    public List<(long Tick, Meter Meter)> Meters { get; } = [];

    public List<(long Tick, KeySignature Key)> Keys { get; } = [];

    public int TicksPerQuarter => tracks.TicksPerQuarter;

    private string NameOf(int track) => tracks.Tracks[track].Where(e => e.IsMeta(MetaType.Name)).Select(e => e.Text).FirstOrDefault(n => n.Length > 0, "");

    private void TakeShared(MidiEvent e, string fileName)
    {
        if (e.Status != 0xFF) return;
        var data = e.Data.Span;
        if (e.First == MetaType.Copyright && Rights.Length == 0) Rights = e.Text;
        else if (e.First == MetaType.Tempo && data.Length >= 3) TakeTempo(e.Tick, (data[0] << 16) | (data[1] << 8) | data[2], fileName);
        else if (e.First == MetaType.Meter && data.Length >= 2) TakeMeter(e.Tick, data[0], data[1], fileName);
        else if (e.First == MetaType.Key && data.Length >= 2 && (sbyte)data[0] is >= -7 and <= 7) Keys.Add((e.Tick, new KeySignature((sbyte)data[0], data[1] == 1 ? KeyMode.Minor : KeyMode.Major)));
    }

    // Microseconds are whole: two decimals give back what was meant.
    private void TakeTempo(long tick, int microseconds, string fileName)
    {
        var tempo = microseconds == 0 ? 0 : Math.Round(60e6 / microseconds, 2);
        if (tempo is >= 1 and <= 1000) Tempos.Add((tick, tempo));
        else log.Warn(new Place(fileName), "A tempo is not between 1 and 1000 quarter notes a minute and is left out.");
    }

    private void TakeMeter(long tick, int beats, int power, string fileName)
    {
        if (beats is >= 1 and <= 64 && power <= 6) Meters.Add((tick, new Meter(beats, 1 << power)));
        else log.Warn(new Place(fileName), "A time signature cannot be used; the one before it stays.", "The upper number lies between 1 and 64, the lower is a power of two up to 64.");
    }

    private void AddLines(int track)
    {
        var held = new SortedDictionary<int, List<HeldKey>>();
        Collect(tracks.Tracks[track], held);
        if (held.Remove(Percussion, out var beats)) log.Note(new Place(Named(track)), "Channel 10 is percussion (General MIDI); it is left out.", detail: $"{beats.Count} notes");
        var lyrics = new Dictionary<long, string>();
        foreach (var e in tracks.Tracks[track].Where(e => e.IsMeta(MetaType.Lyric))) lyrics.TryAdd(e.Tick, e.Text);
        foreach (var (channel, keys) in held)
            Lines.Add(new MidiLine(held.Count > 1 ? $"{Named(track)}, channel {channel + 1}" : Named(track), [.. keys.OrderBy(k => k.On)], lyrics));
    }

    private string Named(int track) => NameOf(track) is { Length: > 0 } name ? name : $"Track {track + 1}";

    private void Collect(IReadOnlyList<MidiEvent> events, SortedDictionary<int, List<HeldKey>> held)
    {
        var open = new Dictionary<(int Channel, int Key), long>();
        foreach (var e in events)
        {
            if (!e.IsNoteOn && !e.IsNoteOff) continue;
            var key = (e.Channel, (int)e.First);
            if (open.Remove(key, out var on) && e.Tick > on) Add(held, key, on, e.Tick);
            if (e.IsNoteOn) open[key] = e.Tick;
        }

        var end = events.Count > 0 ? events[^1].Tick : 0;
        foreach (var (key, on) in open.Where(o => o.Value < end)) Add(held, key, on, end);
    }

    private void Add(SortedDictionary<int, List<HeldKey>> held, (int Channel, int Key) key, long on, long off)
    {
        if (++notes > limits.MostNotes) throw new LimitException($"holds more than {limits.MostNotes} notes.");
        if (!held.TryGetValue(key.Channel, out var keys)) held[key.Channel] = keys = [];
        keys.Add(new HeldKey(on, off, key.Key));
    }
}
