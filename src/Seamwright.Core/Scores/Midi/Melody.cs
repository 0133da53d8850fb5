using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Midi;

/// <summary>A note of a melody in written time.</summary>
/// <param name="Start">From the start of the file.</param>
/// <param name="End">Later than <paramref name="Start"/>, at most the next note's start.</param>
/// <param name="Key">MIDI note number.</param>
/// <param name="Lyric">Empty for none.</param>
internal sealed record MelodyNote(Beats Start, Beats End, int Key, string Lyric);

/// <summary>One line out of held keys: no two notes sound at once.</summary>
internal sealed class Melody
{
    private Melody(IReadOnlyList<MelodyNote> notes, IReadOnlyList<(Beats At, int Kept)> chords, IReadOnlyList<Beats> overlaps) =>
        (Notes, Chords, Overlaps) = (notes, chords, overlaps);

    public IReadOnlyList<MelodyNote> Notes { get; }

    /// <summary>Where several notes began together; the top one was kept.</summary>
    public IReadOnlyList<(Beats At, int Kept)> Chords { get; }

    /// <summary>Where a note still sounded for more than a sixteenth under the next one, which is more than a legato; it was cut there.</summary>
    public IReadOnlyList<Beats> Overlaps { get; }

    public static Melody Of(MidiLine line, int ticksPerQuarter)
    {
        var quantiser = new Quantiser([.. line.Keys.Select(k => k.On)], ticksPerQuarter);
        var groups = line.Keys.GroupBy(k => quantiser.Onset(k.On)).OrderBy(g => g.Key).ToList();
        var tops = groups.ConvertAll(g => g.OrderByDescending(k => k.Key).ThenByDescending(k => k.Off).First());
        var notes = new List<MelodyNote>(tops.Count);
        var overlaps = new List<Beats>();
        for (var i = 0; i < tops.Count; i++)
        {
            var (key, next) = (tops[i], i + 1 < tops.Count ? tops[i + 1].On : (long?)null);
            if (next is { } n && (key.Off - n) * 4 > ticksPerQuarter) overlaps.Add(groups[i + 1].Key);
            var lyric = groups[i].Select(k => line.Lyrics.GetValueOrDefault(k.On, "")).FirstOrDefault(l => l.Length > 0, "");
            notes.Add(new MelodyNote(groups[i].Key, quantiser.End(key.On, key.Off, next), key.Key, lyric));
        }

        return new Melody(notes, [.. groups.Zip(tops).Where(g => g.First.Any(k => k.Key != g.Second.Key)).Select(g => (g.First.Key, g.Second.Key))], overlaps);
    }
}
