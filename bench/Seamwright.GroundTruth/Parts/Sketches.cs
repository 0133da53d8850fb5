using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.GroundTruth.Parts;

/// <summary>Invents lines: wandering phrases of three to six slurred notes with rests between them.</summary>
internal static class Sketches
{
    private const int WidestPhrase = 14;
    private static readonly int[] Leaps = [-12, -7, -5, -4, -3, -3, -2, -2, -2, -1, -1, -1, 1, 1, 1, 2, 2, 2, 3, 3, 4, 5, 7, 12];

    /// <summary>A line.</summary>
    /// <param name="title">Its name.</param>
    /// <param name="register">Where it lies.</param>
    /// <param name="bars">How many bars of four quarters, at least 1.</param>
    /// <param name="slow">Whether notes are long enough for glides of 320 ms.</param>
    /// <param name="random">Seeded.</param>
    public static Sketch Make(string title, Register register, int bars, bool slow, Random random)
    {
        var tempo = Math.Round(slow ? random.Next(58, 72) : random.Next(72, 100) + 0.0);
        var lengths = Lengths(bars, slow, random);
        var events = ImmutableArray.CreateBuilder<SketchEvent>();
        var (left, midi, low, high) = (0, random.Next(register.Lowest, register.Highest + 1), 0, 0);
        for (var i = 0; i < lengths.Count; i++)
        {
            var last = i == lengths.Count - 1;
            if (left == 0)
            {
                left = random.Next(3, 7);
                (low, high) = (midi, midi);
            }

            left--;
            var rest = lengths[i] == 1 && left == 0 && i > 0;
            if (rest)
            {
                if (events[^1].Midi is not null) events[^1] = events[^1] with { SlurredToNext = false };
                events.Add(new(null, new Beats(1, 1), false));
                continue;
            }

            events.Add(new(midi, Halves(lengths[i]), !last && random.NextDouble() < 0.88));
            midi = Next(midi, ref low, ref high, register, random);
        }

        return new Sketch(title, register.InstrumentId, tempo, events.ToImmutable());
    }

    /// <summary>Of several lines the one whose plan slides most: the planner avoids slides where it can, and slides are what is to be heard.</summary>
    /// <param name="count">How many are drawn.</param>
    /// <param name="draw">Draws one.</param>
    public static Sketch BestOf(int count, Func<Sketch> draw) =>
        Enumerable.Range(0, count).Select(_ => draw()).MaxBy(s => PartPlan.Of(SketchScore.Of(s), s.InstrumentId).Changes.Count(c => c.Kind == ChangeKind.SoftTongue))!;

    private static Beats Halves(double quarters) => new((int)Math.Round(2 * quarters), 2);

    private static int Next(int midi, ref int low, ref int high, Register register, Random random)
    {
        while (true)
        {
            var next = midi + Leaps[random.Next(Leaps.Length)];
            if (next < register.Lowest || next > register.Highest) continue;
            var (l, h) = (Math.Min(low, next), Math.Max(high, next));
            if (h - l > WidestPhrase) continue;
            (low, high) = (l, h);
            return next;
        }
    }

    private static List<double> Lengths(int bars, bool slow, Random random)
    {
        double[][] shapes = slow
            ? [[2, 2], [1, 2, 1], [1, 1, 2], [1.5, 1.5, 1]]
            : [[1, 1, 1, 1], [1.5, 0.5, 1, 1], [2, 1, 1], [0.5, 0.5, 1, 2], [1, 0.5, 0.5, 1, 1], [1, 1, 0.5, 1.5]];
        return [.. Enumerable.Range(0, bars).SelectMany(_ => shapes[random.Next(shapes.Length)])];
    }
}
