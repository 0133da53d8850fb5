using Seamwright.Core.Scores.Assembling;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Midi;

/// <summary>A melody put into bars.</summary>
internal static class MidiPart
{
    public static RawPart Of(string id, string name, Melody melody, IReadOnlyList<GridBar> grid, ProblemLog log)
    {
        var part = new RawPart(id, name);
        part.Voices.Add("1");
        foreach (var bar in grid) part.Bars.Add(Bar(part.Bars.Count, bar));
        var at = 0;
        for (var i = 0; i < melody.Notes.Count; i++)
        {
            var note = melody.Notes[i];
            while (grid[at].End <= note.Start) at++;
            var next = i + 1 < melody.Notes.Count ? melody.Notes[i + 1].Key : (int?)null;
            Place(part, grid, at, note, Spelling.Of(note.Key, next, grid[at].Key));
        }

        foreach (var (place, kept) in melody.Chords)
            log.Warn(PlaceOf(part, grid, place), "A chord stands here; a trombone plays one note, so the top one is kept.", "Choose another part, or write the divided parts out.", $"{Pitch.FromMidi(kept)} stays");
        foreach (var place in melody.Overlaps)
            log.Warn(PlaceOf(part, grid, place), "A note still sounds under the next one for longer than a legato does; it ends where that one begins.", "Choose another part, or give each voice a track of its own.");
        return part;
    }

    private static RawBar Bar(int index, GridBar bar)
    {
        var raw = new RawBar
        {
            Index = index,
            Number = $"{index + 1}",
            Implicit = false,
            Meter = bar.Meter,
            Key = bar.Key,
            WrittenKey = bar.Key,
            Length = bar.Length,
            Extent = bar.Length,
            IsPickup = bar.Length < bar.Meter.BarLength,
        };
        raw.Notes["1"] = [];
        raw.Tempos.AddRange(bar.Tempos);
        return raw;
    }

    private static Place PlaceOf(RawPart part, IReadOnlyList<GridBar> grid, Beats place)
    {
        var (low, high) = (0, grid.Count - 1);
        while (low < high)
        {
            var middle = (low + high + 1) / 2;
            if (grid[middle].Start <= place) low = middle;
            else high = middle - 1;
        }

        return Places.Of(part.Name, part.Bars[low], place - grid[low].Start);
    }

    private static void Place(RawPart part, IReadOnlyList<GridBar> grid, int at, MelodyNote note, Pitch pitch)
    {
        var start = note.Start;
        while (start < note.End)
        {
            if (grid[at].End <= start) at++;
            var end = Min(note.End, grid[at].End);
            foreach (var (offset, length) in Pieces(start - grid[at].Start, end - start))
            {
                part.Bars[at].Notes["1"].Add(new RawNote
                {
                    Offset = offset,
                    Duration = length,
                    Staff = 1,
                    Pitch = pitch,
                    Written = pitch,
                    Tied = grid[at].Start + offset + length < note.End,
                    Lyric = grid[at].Start + offset == note.Start ? note.Lyric : "",
                });
            }

            start = end;
        }
    }

    // A note of a tuplet that does not stand at a multiple of its own length is cut at the next beat, so that it can be read.
    private static IEnumerable<(Beats Offset, Beats Length)> Pieces(Beats offset, Beats length)
    {
        while (IsAwkward(offset, length))
        {
            var piece = new Beats((offset.Numerator / offset.Denominator) + 1, 1) - offset;
            if (piece >= length) break;
            yield return (offset, piece);
            (offset, length) = (offset + piece, length - piece);
        }

        yield return (offset, length);
    }

    private static bool IsAwkward(Beats offset, Beats length)
    {
        var inTuplet = !offset.Denominator.IsPowerOfTwo || !length.Denominator.IsPowerOfTwo;
        var isMultiple = (offset.Numerator * length.Denominator % (offset.Denominator * length.Numerator)).IsZero;
        return inTuplet && !(isMultiple && Shapes.Exact(length) is not null);
    }

    private static Beats Min(Beats a, Beats b) => a < b ? a : b;
}
