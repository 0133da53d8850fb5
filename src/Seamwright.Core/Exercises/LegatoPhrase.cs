using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>A note or a rest of a phrase.</summary>
/// <param name="Pitch">Null for a rest.</param>
/// <param name="Length">More than zero.</param>
internal readonly record struct LegatoNote(Pitch? Pitch, Beats Length);

/// <summary>What is played on one breath.</summary>
internal sealed record LegatoPhrase(ImmutableArray<LegatoNote> Notes)
{
    public Beats Length => Notes.Aggregate(Beats.Zero, (sum, n) => sum + n.Length);
}

/// <summary>Phrases under one heading.</summary>
internal sealed record LegatoSection(string Heading, ImmutableArray<LegatoPhrase> Phrases);

/// <summary>Divides runs of equal notes into phrases that a breath holds.</summary>
/// <remarks>In common time. The first note is a little longer where that brings the last note to the first or third beat, and the last
/// one is held: three beats from the first, two from the third. What is left of the bar is for the breath. Cells stay where they are in the bar.</remarks>
internal static class Phrasing
{
    private static readonly Beats HalfBar = Beats.Quarter * 2;

    /// <summary>A run in few phrases of like length; every phrase begins on the note on which the last one stopped.</summary>
    /// <param name="run">At least one note.</param>
    /// <param name="each">Length of a note.</param>
    /// <param name="tempo">The slowest, in quarter notes a minute.</param>
    public static ImmutableArray<LegatoPhrase> OfRun(IReadOnlyList<Pitch> run, Beats each, double tempo) =>
        Divided(run.Count - 1, each, tempo, (from, to) => [.. run.Skip(from).Take(to - from + 1)], LongEnded);

    /// <summary>Cells in few phrases of like length; no cell is divided and nothing is played twice.</summary>
    /// <param name="cells">Each at least one note.</param>
    /// <param name="each">Length of a note.</param>
    /// <param name="tempo">The slowest, in quarter notes a minute.</param>
    public static ImmutableArray<LegatoPhrase> OfCells(IReadOnlyList<ImmutableArray<Pitch>> cells, Beats each, double tempo) =>
        Divided(cells.Count, each, tempo, (from, to) => [.. cells.Skip(from).Take(to - from).SelectMany(c => c)], CellEnded);

    // Long last notes first; where even the shortest phrases have no room for them, short ones.
    private static ImmutableArray<LegatoPhrase> Divided(int count, Beats each, double tempo, Func<int, int, ImmutableArray<Pitch>> notes, Func<ImmutableArray<Pitch>, Beats, double, LegatoPhrase> longer)
    {
        foreach (var shape in (Func<ImmutableArray<Pitch>, Beats, double, LegatoPhrase>[])[longer, ShortEnded])
        {
            for (var parts = 1; parts <= count; parts++)
            {
                var cuts = Enumerable.Range(0, parts + 1).Select(i => count * i / parts).ToList();
                var phrases = cuts.Zip(cuts.Skip(1), (from, to) => shape(notes(from, to), each, tempo)).ToList();
                if (phrases.TrueForAll(p => Breath.Holds(p.Length, tempo))) return [.. phrases];
            }
        }

        return [.. Enumerable.Range(0, count).Select(i => ShortEnded(notes(i, i + 1), each, tempo))];
    }

    // A cell keeps its place in the bar: only the last note is longer.
    private static LegatoPhrase CellEnded(ImmutableArray<Pitch> notes, Beats each, double tempo) => Phrase(notes, each, Beats.Zero, HalfBar);

    private static LegatoPhrase LongEnded(ImmutableArray<Pitch> notes, Beats each, double tempo)
    {
        var before = each * (notes.Length - 1);
        var pad = Remainder(-before, HalfBar);
        var longest = Remainder(before + pad, HalfBar * 2) == Beats.Zero ? Beats.Quarter * 3 : HalfBar;
        return Phrase(notes, each, pad, Breath.Holds(before + pad + longest, tempo) ? longest : HalfBar);
    }

    private static LegatoPhrase ShortEnded(ImmutableArray<Pitch> notes, Beats each, double tempo) => Phrase(notes, each, Beats.Zero, Beats.Quarter);

    private static LegatoPhrase Phrase(ImmutableArray<Pitch> notes, Beats each, Beats pad, Beats last) =>
        new([.. notes.Select((p, i) => new LegatoNote(p, i == notes.Length - 1 ? last : i == 0 ? each + pad : each))]);

    private static Beats Remainder(Beats length, Beats unit)
    {
        while (length >= unit) length -= unit;
        while (length < Beats.Zero) length += unit;
        return length;
    }
}
