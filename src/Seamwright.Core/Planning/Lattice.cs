using Seamwright.Core.Instruments;

namespace Seamwright.Core.Planning;

/// <summary>The cheapest way through all settings of all notes, and for every setting the cheapest way that uses it.</summary>
/// <remarks>Dynamic programming over (setting, motion of the slide that arrived at it): the motion is part of the state because
/// a reversal's cost looks back one change. Forward and backward sums meet at every state, so each alternative's price is exact.
/// Time and memory grow linearly with the notes: about 3·c² steps a note for c settings.</remarks>
internal sealed class Lattice
{
    private const int Motions = 3;

    private readonly double[][] forward;
    private readonly int[][] cameFrom;
    private readonly double[][] backward;

    /// <summary>Solves a line.</summary>
    /// <param name="settings">Allowed settings of each note, each list non-empty.</param>
    /// <param name="noteCost">Cost of note i in its setting s.</param>
    /// <param name="step">Cost of the change from note i in setting a to note i + 1 in setting b.</param>
    /// <param name="reversal">Cost where a change's motion turns against the one before it.</param>
    public Lattice(
        IReadOnlyList<IReadOnlyList<SlideSetting>> settings,
        Func<int, int, double> noteCost,
        Func<int, int, int, Step> step,
        double reversal)
    {
        var count = settings.Count;
        forward = new double[count][];
        backward = new double[count][];
        cameFrom = new int[count][];
        var steps = new Step[Math.Max(0, count - 1)][];
        for (var i = 0; i < count; i++) Advance(i);
        for (var i = count - 1; i >= 0; i--) Retreat(i);

        void Advance(int i)
        {
            var size = settings[i].Count;
            forward[i] = new double[size * Motions];
            cameFrom[i] = new int[size * Motions];
            Array.Fill(forward[i], double.PositiveInfinity);
            if (i == 0)
            {
                for (var s = 0; s < size; s++) forward[0][(s * Motions) + (int)SlideMotion.Still] = noteCost(0, s);
                return;
            }

            var before = settings[i - 1].Count;
            steps[i - 1] = new Step[before * size];
            for (var s = 0; s < size; s++)
            {
                var own = noteCost(i, s);
                for (var p = 0; p < before; p++)
                {
                    var change = step(i - 1, p, s);
                    steps[i - 1][(p * size) + s] = change;
                    var (best, from) = CheapestInto(forward[i - 1], p, change, reversal);
                    var state = (s * Motions) + (int)change.Motion;
                    var total = best + change.Cost + own;
                    if (!(total < forward[i][state])) continue;
                    forward[i][state] = total;
                    cameFrom[i][state] = from;
                }
            }
        }

        void Retreat(int i)
        {
            var size = settings[i].Count;
            backward[i] = new double[size * Motions];
            if (i == count - 1) return;
            Array.Fill(backward[i], double.PositiveInfinity);
            var after = settings[i + 1].Count;
            for (var s = 0; s < size; s++)
            {
                for (var n = 0; n < after; n++)
                {
                    var change = steps[i][(s * after) + n];
                    var rest = change.Cost + noteCost(i + 1, n) + backward[i + 1][(n * Motions) + (int)change.Motion];
                    for (var m = 0; m < Motions; m++)
                    {
                        var turned = CostModel.Reverses((SlideMotion)m, change.Motion) ? rest + reversal : rest;
                        ref var slot = ref backward[i][(s * Motions) + m];
                        if (turned < slot) slot = turned;
                    }
                }
            }
        }
    }

    /// <summary>One change: its cost, and the way its slide goes (still after a breath, which forgets the motion).</summary>
    internal readonly record struct Step(double Cost, SlideMotion Motion);

    /// <summary>Index of the chosen setting for each note; ties go to the setting listed first.</summary>
    public int[] Best()
    {
        var chosen = new int[forward.Length];
        if (chosen.Length == 0) return chosen;
        var state = ArgMin(forward[^1]);
        for (var i = forward.Length - 1; i >= 0; i--)
        {
            chosen[i] = state / Motions;
            state = cameFrom[i][state];
        }

        return chosen;
    }

    /// <summary>Cost of the best way of all; 0 for no notes.</summary>
    public double BestCost => forward.Length == 0 ? 0 : forward[^1].Min();

    /// <summary>Cost of the best way in which note <paramref name="note"/> has its setting <paramref name="setting"/>.</summary>
    public double BestCostThrough(int note, int setting)
    {
        var best = double.PositiveInfinity;
        for (var m = 0; m < Motions; m++)
        {
            var state = (setting * Motions) + m;
            best = Math.Min(best, forward[note][state] + backward[note][state]);
        }

        return best;
    }

    private static (double Cost, int State) CheapestInto(double[] before, int setting, Step change, double reversal)
    {
        var best = double.PositiveInfinity;
        var from = setting * Motions;
        for (var m = 0; m < Motions; m++)
        {
            var cost = before[(setting * Motions) + m];
            if (CostModel.Reverses((SlideMotion)m, change.Motion)) cost += reversal;
            if (!(cost < best)) continue;
            best = cost;
            from = (setting * Motions) + m;
        }

        return (best, from);
    }

    private static int ArgMin(double[] values)
    {
        var best = 0;
        for (var i = 1; i < values.Length; i++)
        {
            if (values[i] < values[best]) best = i;
        }

        return best;
    }
}
