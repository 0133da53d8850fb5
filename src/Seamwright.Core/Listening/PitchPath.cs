using System.Runtime.CompilerServices;
namespace Seamwright.Core.Listening;

/// <summary>One cheapest path through the frames' candidates, frame by frame (Viterbi): shorter periods and pitches of the part are
/// preferred, leaps cost.</summary>
/// <remarks>A frame is settled once every path still open goes through the same candidate there, so that the result does not
/// depend on how the sound was cut into blocks: it is the one path through the whole.</remarks>
internal sealed class PitchPath(double[] expected, PitchPath.Settle settle)
{
    private const double OctaveLeap = 0.25;
    private const double VoiceTurn = 0.15;
    private const double Unvoiced = 0.45;

    // A period repeats at its multiples too; each doubling must be worth this much correlation.
    private const double LongerByOctave = 0.1;
    private const double OutsidePart = 0.2;
    private const int States = PeriodFinder.Kept + 1;

    // Open paths are looked through this often; none stays open longer than the second figure (10 s).
    private const int LookEvery = 32;
    private const int LongestOpen = 2000;

    private readonly List<Candidate> candidates = [];
    private readonly List<sbyte> from = [];
    private readonly double[] cost = new double[States];
    private readonly double[] next = new double[States];
    private readonly double[] octaves = new double[PeriodFinder.Kept];
    private readonly double[] before = new double[PeriodFinder.Kept];
    private int frames;

    /// <summary>Takes a settled frame: the candidate chosen, empty where no pitch is heard, and all of them.</summary>
    public delegate void Settle(Candidate chosen, ReadOnlySpan<Candidate> all);

    /// <summary>The best guess for the newest frame, before anything after it is known.</summary>
    public Candidate Newest
    {
        get
        {
            var best = Best();
            return frames == 0 || best == States - 1 ? default : candidates[((frames - 1) * PeriodFinder.Kept) + best];
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Push(ReadOnlySpan<Candidate> here)
    {
        candidates.AddRange(here);
        for (var j = 0; j < here.Length; j++) octaves[j] = here[j].Strength > 0 ? Math.Log2(here[j].Hz) : double.NaN;
        for (var j = 0; j < States; j++)
        {
            var (best, who) = Cheapest(j);
            next[j] = best + Emission(here, j);
            from.Add((sbyte)who);
        }

        var least = next.Min();
        for (var j = 0; j < States; j++) cost[j] = next[j] - least;
        octaves.CopyTo(before, 0);
        frames++;
        if (frames % LookEvery == 0) SettleAgreed();
        if (frames >= LongestOpen) Close(frames / 2, Best());
    }

    /// <summary>Settles what is still open.</summary>
    public void Finish()
    {
        if (frames > 0) Close(frames, Best());
    }

    private int Best()
    {
        var state = 0;
        for (var j = 1; j < States; j++)
        {
            if (cost[j] < cost[state]) state = j;
        }

        return state;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private (double Cost, int From) Cheapest(int to)
    {
        if (frames == 0) return (0, States - 1);
        var voicedTo = to < PeriodFinder.Kept;
        if (voicedTo && double.IsNaN(octaves[to])) return (0, States - 1);
        var best = (Cost: cost[^1] + (voicedTo ? VoiceTurn : 0), From: States - 1);
        for (var k = 0; k < PeriodFinder.Kept; k++)
        {
            if (double.IsNaN(before[k])) continue;
            var c = cost[k] + (voicedTo ? OctaveLeap * Math.Abs(octaves[to] - before[k]) : VoiceTurn);
            if (c < best.Cost) best = (c, k);
        }

        return best;
    }

    private double Emission(ReadOnlySpan<Candidate> here, int state)
    {
        if (state == here.Length) return Unvoiced;
        if (here[state].Strength <= 0) return 1e6;
        var highest = double.NegativeInfinity;
        foreach (var o in octaves) highest = o > highest ? o : highest;
        return 1 - here[state].Strength + (LongerByOctave * (highest - octaves[state])) + (InPart(here[state].Hz) ? 0 : OutsidePart);
    }

    private bool InPart(double hz)
    {
        if (expected.Length == 0) return true;
        foreach (var e in expected)
        {
            if (hz > e * 0.94 && hz < e * 1.06) return true;
        }

        return false;
    }

    // All open paths traced back together: where they have become one, what lies before is settled.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void SettleAgreed()
    {
        Span<int> at = stackalloc int[States];
        for (var j = 0; j < States; j++) at[j] = j;
        for (var i = frames - 1; i > 0; i--)
        {
            var one = true;
            for (var j = 0; j < States; j++)
            {
                at[j] = from[(i * States) + at[j]];
                one &= at[j] == at[0];
            }

            if (!one) continue;
            Emit(i, at[0]);
            Drop(i);
            return;
        }
    }

    private void Close(int count, int last)
    {
        var state = last;
        for (var i = frames - 1; i >= count; i--) state = from[(i * States) + state];
        Emit(count, state);
        Drop(count);
    }

    // Settles the first frames, given the state of the last of them.
    private void Emit(int count, int last)
    {
        var chosen = new int[count];
        var state = last;
        for (var i = count - 1; i >= 0; i--)
        {
            chosen[i] = state;
            state = from[(i * States) + state];
        }

        var all = System.Runtime.InteropServices.CollectionsMarshal.AsSpan(candidates);
        for (var i = 0; i < count; i++)
        {
            var here = all.Slice(i * PeriodFinder.Kept, PeriodFinder.Kept);
            settle(chosen[i] == States - 1 ? default : here[chosen[i]], here);
        }
    }

    private void Drop(int count)
    {
        candidates.RemoveRange(0, count * PeriodFinder.Kept);
        from.RemoveRange(0, count * States);
        frames -= count;
    }
}
