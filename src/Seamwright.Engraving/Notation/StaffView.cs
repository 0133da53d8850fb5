using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Engraving.Notation;

/// <summary>How concert pitch is shown on this sheet: which clef where, and how far the print lies above the sound.</summary>
internal sealed class StaffView
{
    private readonly Interval fixedTransposition;
    private readonly Clef[] atStart;
    private readonly ClefMark[][] changes;

    public StaffView(Part part, Clef? only)
    {
        // A part that its file transposes is shown as its player knows it; a clef asked for by the teacher is shown at its own pitch.
        fixedTransposition = only is null ? part.Transposition : Interval.Unison;
        atStart = new Clef[part.Bars.Length];
        changes = new ClefMark[part.Bars.Length][];
        var clef = only ?? part.Bars[0].Clefs.Select(c => c.Clef).DefaultIfEmpty(Clef.Bass).First();
        for (var i = 0; i < atStart.Length; i++)
        {
            var marks = only is null ? part.Bars[i].Clefs.OrderBy(c => c.Offset).ToList() : [];
            clef = marks.Where(m => m.Offset <= Beats.Zero).Select(m => m.Clef).DefaultIfEmpty(clef).Last();
            atStart[i] = clef;
            changes[i] = [.. Changes(marks.Where(m => m.Offset > Beats.Zero && m.Offset < part.Bars[i].Length), clef)];
            clef = changes[i].Select(m => m.Clef).DefaultIfEmpty(clef).Last();
        }
    }

    /// <summary>The clef at the left edge of a bar.</summary>
    public Clef ClefAt(int bar) => atStart[bar];

    /// <summary>The clef at the right edge of a bar.</summary>
    public Clef ClefAfter(int bar) => changes[bar].Select(c => c.Clef).DefaultIfEmpty(atStart[bar]).Last();

    /// <summary>Changes of clef inside a bar, each a real change.</summary>
    public IReadOnlyList<ClefMark> ChangesIn(int bar) => changes[bar];

    /// <summary>What is added to the sound at a place to get the print.</summary>
    public Interval TranspositionAt(int bar, Beats offset)
    {
        if (fixedTransposition != Interval.Unison) return fixedTransposition;
        var clef = changes[bar].Where(c => c.Offset <= offset).Select(c => c.Clef).DefaultIfEmpty(atStart[bar]).Last();
        return clef == Clef.TrebleBb ? Interval.MajorNinth : Interval.Unison;
    }

    /// <summary>The printed key of a bar.</summary>
    public KeySignature KeyOf(Bar bar) => bar.Key.Transposed(TranspositionAt(bar.Index, Beats.Zero));

    private static IEnumerable<ClefMark> Changes(IEnumerable<ClefMark> marks, Clef clef)
    {
        foreach (var mark in marks)
        {
            if (mark.Clef != clef) yield return mark;
            clef = mark.Clef;
        }
    }
}
