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
/// one is held: three beats from the first, two from the third. What is left of the bar is for the breath.</remarks>
internal static class Phrasing
{
    private static readonly Beats HalfBar = Beats.Quarter * 2;

    /// <summary>A run in few phrases of like length; every phrase begins on the note on which the last one stopped.</summary>
    /// <param name="run">At least one note.</param>
    /// <param name="each">Length of a note.</param>
    /// <param name="tempo">The slowest, in quarter notes a minute.</param>
    public static ImmutableArray<LegatoPhrase> OfRun(IReadOnlyList<Pitch> run, Beats each, double tempo)
    {
        for (var parts = 1; parts < run.Count; parts++)
        {
            var cuts = Enumerable.Range(0, parts + 1).Select(i => (run.Count - 1) * i / parts).ToList();
            var pieces = cuts.Zip(cuts.Skip(1), (from, to) => Phrase([.. run.Skip(from).Take(to - from + 1)], each, tempo)).ToList();
            if (pieces.TrueForAll(p => Breath.Holds(p.Length, tempo))) return [.. pieces];
        }

        return [.. run.Zip(run.Skip(1), (a, b) => Phrase([a, b], each, tempo))];
    }

    /// <summary>Cells in few phrases of like length; no cell is divided and nothing is played twice.</summary>
    /// <param name="cells">Each at least one note.</param>
    /// <param name="each">Length of a note.</param>
    /// <param name="tempo">The slowest, in quarter notes a minute.</param>
    public static ImmutableArray<LegatoPhrase> OfCells(IReadOnlyList<ImmutableArray<Pitch>> cells, Beats each, double tempo)
    {
        for (var parts = 1; parts < cells.Count; parts++)
        {
            var cuts = Enumerable.Range(0, parts + 1).Select(i => cells.Count * i / parts).ToList();
            var pieces = cuts.Zip(cuts.Skip(1), (from, to) => Phrase([.. cells.Skip(from).Take(to - from).SelectMany(c => c)], each, tempo)).ToList();
            if (pieces.TrueForAll(p => Breath.Holds(p.Length, tempo))) return [.. pieces];
        }

        return [.. cells.Select(c => Phrase(c, each, tempo))];
    }

    private static LegatoPhrase Phrase(IReadOnlyList<Pitch> notes, Beats each, double tempo)
    {
        var before = each * (notes.Count - 1);
        var pad = HalfBar - Remainder(before, HalfBar);
        if (pad == HalfBar || notes.Count == 1) pad = Beats.Zero;
        var onFirst = Remainder(before + pad, HalfBar * 2) == Beats.Zero;
        (Beats Pad, Beats Last)[] shapes = onFirst ? [(pad, Beats.Quarter * 3), (pad, HalfBar), (Beats.Zero, Beats.Quarter)] : [(pad, HalfBar), (Beats.Zero, Beats.Quarter)];
        var shape = shapes.FirstOrDefault(s => Breath.Holds(before + s.Pad + s.Last, tempo), shapes[^1]);
        return new([.. notes.Select((p, i) => new LegatoNote(p, i == notes.Count - 1 ? shape.Last : i == 0 ? each + shape.Pad : each))]);
    }

    private static Beats Remainder(Beats length, Beats unit)
    {
        while (length >= unit) length -= unit;
        return length;
    }
}
