using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores;

/// <summary>A stretch of the played line that is learned in one go.</summary>
/// <param name="From">Played place of its beginning; the phrases of a line follow one another without gaps.</param>
/// <param name="To">Played place of its end.</param>
/// <param name="FirstNote">Index of its first note.</param>
/// <param name="LastNote">Index of its last note.</param>
public sealed record Phrase(Beats From, Beats To, int FirstNote, int LastNote);

/// <summary>Cuts a line where a teacher would: at rests and breaths, else where slurs end, best at bar lines; two to four bars each.</summary>
/// <remarks>The cuts are those of least cost, found exactly. A cut at a rest or breath costs nothing, where a slur ends 1 (1.6 inside the
/// bar), between tongued notes 1.4 (3), inside a slur 5 (12); a phrase shorter than two bars costs up to 3.5, one longer than four 1.5 a
/// bar; a breath that is passed over costs 0.75. Proposed defaults, tried on twelve tunes. A rest belongs to the phrase before it.</remarks>
public static class Phrases
{
    private const double Passed = 0.75;

    // No phrase is worth looking at beyond this many notes: it keeps the search quick on a long part.
    private const int Furthest = 400;

    /// <summary>The phrases of a line.</summary>
    /// <param name="line">With bars and at least one note.</param>
    /// <param name="bars">Whole bars in each phrase, at least 1; null to find the cuts.</param>
    public static ImmutableArray<Phrase> Of(Line line, int? bars = null) => Between(line, bars is { } n ? EveryBars(line, n) : Found(line));

    /// <summary>The whole line as one.</summary>
    public static Phrase Whole(Line line) => new(Beats.Zero, EndOf(line), 0, line.Notes.Length - 1);

    private static Beats EndOf(Line line) => line.Bars[^1].End > line.Notes[^1].End ? line.Bars[^1].End : line.Notes[^1].End;

    // Cut i stands before note i.
    private static ImmutableArray<Phrase> Between(Line line, IEnumerable<(int Note, Beats At)> cuts)
    {
        var phrases = ImmutableArray.CreateBuilder<Phrase>();
        var (first, from) = (0, Beats.Zero);
        foreach (var (note, at) in cuts)
        {
            phrases.Add(new Phrase(from, at, first, note - 1));
            (first, from) = (note, at);
        }

        phrases.Add(new Phrase(from, EndOf(line), first, line.Notes.Length - 1));
        return phrases.ToImmutable();
    }

    private static List<(int Note, Beats At)> EveryBars(Line line, int bars)
    {
        var upbeat = line.Bars[0].Shift > Beats.Zero ? line.Bars[0].Length : Beats.Zero;
        var cuts = new List<(int, Beats)>();
        var whole = 0;
        var last = 0;
        foreach (var bar in line.Bars)
        {
            if (bar.Shift > Beats.Zero) continue;
            if (whole++ == 0 || (whole - 1) % bars != 0) continue;
            var note = CutBefore(line, bar.Start, upbeat);
            if (note <= last || note >= line.Notes.Length) continue;
            var at = line.Notes[note].Start < bar.Start ? line.Notes[note].Start : line.Notes[note - 1].End > bar.Start ? line.Notes[note - 1].End : bar.Start;
            cuts.Add((note, at));
            last = note;
        }

        return cuts;
    }

    // A piece that begins with an upbeat has one before every phrase, where the notes allow it.
    private static int CutBefore(Line line, Beats barLine, Beats upbeat)
    {
        var notes = line.Notes;
        var atUpbeat = upbeat > Beats.Zero ? IndexFrom(notes, barLine - upbeat) : -1;
        return atUpbeat > 0 && notes[atUpbeat].Start == barLine - upbeat ? atUpbeat : IndexFrom(notes, barLine);
    }

    private static int IndexFrom(ImmutableArray<PlayedNote> notes, Beats place)
    {
        var (low, high) = (0, notes.Length);
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (notes[middle].Start < place) low = middle + 1;
            else high = middle;
        }

        return low;
    }

    private static List<(int Note, Beats At)> Found(Line line)
    {
        var count = line.Notes.Length;
        var places = Enumerable.Range(0, count + 1).Select(i => i == 0 ? Beats.Zero : i == count ? EndOf(line) : CutPlace(line, i)).ToArray();
        var bars = places.Select(p => InBars(line, p)).ToArray();
        var breaths = new int[count + 1];
        for (var i = 1; i < count; i++) breaths[i] = breaths[i - 1] + (IsBreath(line, i) ? 1 : 0);
        var best = new double[count + 1];
        var from = new int[count + 1];
        for (var end = 1; end <= count; end++)
        {
            best[end] = double.PositiveInfinity;
            var cut = end == count ? 0 : CutCost(line, end, places[end]);
            for (var start = Math.Max(0, end - Furthest); start < end; start++)
            {
                var cost = best[start] + cut + LengthCost(bars[end] - bars[start]) + (Passed * (breaths[end - 1] - breaths[start]));
                if (cost < best[end]) (best[end], from[end]) = (cost, start);
            }
        }

        var cuts = new List<(int, Beats)>();
        for (var i = from[count]; i > 0; i = from[i]) cuts.Insert(0, (i, places[i]));
        return cuts;
    }

    // At the bar line where a rest leads over it by no more than half a bar; else right before the note.
    private static Beats CutPlace(Line line, int note)
    {
        var (before, after) = (line.Notes[note - 1], line.Notes[note]);
        var bar = BarAt(line, after.Start);
        return bar.Start >= before.End && bar.Start < after.Start && (after.Start - bar.Start) * 2 <= bar.Length ? bar.Start : after.Start;
    }

    private static bool IsBreath(Line line, int note) => line.Notes[note - 1].BreathAfter || line.Notes[note].Start - line.Notes[note - 1].End >= new Beats(1, 2);

    private static double CutCost(Line line, int note, Beats at)
    {
        if (IsBreath(line, note)) return 0;
        var atBarLine = BarAt(line, at).Start == at;
        var before = line.Notes[note - 1];
        if (before.SlurredToNext) return atBarLine ? 5 : 12;
        var endsSlur = note >= 2 && line.Notes[note - 2].SlurredToNext;
        return (endsSlur, atBarLine) switch { (true, true) => 1, (true, false) => 1.6, (false, true) => 1.4, _ => 3 };
    }

    private static double LengthCost(double bars) => bars switch
    {
        < 1.5 => 0.5 + (2 * (1.5 - bars)),
        < 2 => 2 - bars,
        <= 4.25 => 0,
        _ => 1.5 * (bars - 4.25),
    };

    private static double InBars(Line line, Beats place)
    {
        var index = IndexOfBar(line, place);
        var bar = line.Bars[index];
        return index + ((place - bar.Start).ToDouble() / bar.Meter.BarLength.ToDouble());
    }

    internal static PlayedBar BarAt(Line line, Beats place) => line.Bars[IndexOfBar(line, place)];

    /// <summary>The bar that holds a place; the last one for what lies behind all bars.</summary>
    internal static int IndexOfBar(Line line, Beats place)
    {
        var (low, high) = (0, line.Bars.Length);
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (line.Bars[middle].Start <= place) low = middle + 1;
            else high = middle;
        }

        return Math.Max(0, low - 1);
    }
}
