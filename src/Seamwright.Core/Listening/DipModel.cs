using System.Numerics;
using System.Runtime.CompilerServices;

namespace Seamwright.Core.Listening;

/// <summary>What the level's own windows show of a dip: two notes, the dip over them, the room's filling, averaged and in dB.</summary>
/// <remarks>Several moments at a time. A shape that is asked for again is not worked out again, whatever its depth: slopes move one figure
/// after the other. <see cref="Dips.At"/> says the same moment by moment.</remarks>
internal sealed class DipModel
{
    private const double Step = 0.001;
    private static readonly int Lanes = Vector<double>.Count;
    private static readonly Vector<double> Lane = Vector.CreateSequence(0.0, 1.0);

    private readonly double floor;
    private readonly double share;
    private readonly double keeps;
    private readonly double first;
    private readonly int count;

    // At each step, in its middle: power of the notes without a dip, power with it, and its running sum.
    private readonly double[] still;
    private readonly double[] power;
    private readonly double[] sums;
    private readonly Flanks main;
    private readonly Flanks beside;

    // Of each reading: where its window begins and ends, in steps, and one over its length.
    private readonly (int Step, double Part)[] starts;
    private readonly (int Step, double Part)[] ends;
    private readonly double[] perWindow;

    /// <param name="times">Of the readings, seconds, rising.</param>
    /// <param name="windows">The rectangular window of each, seconds, about its time.</param>
    /// <param name="before">Level of the first note, dB.</param>
    /// <param name="after">Level of the second note, dB.</param>
    /// <param name="turn">When one level gives way to the other.</param>
    /// <param name="floor">Power of the room.</param>
    /// <param name="room">How the room answers; it fills dips.</param>
    public DipModel(double[] times, double[] windows, double before, double after, double turn, double floor, Decay? room)
    {
        this.floor = floor;
        if (room is { Matters: true } r) (share, keeps) = (r.Share, Math.Pow(10, -6 * Step / r.Seconds60));
        var widest = windows.Max();
        first = times[0] - widest + (Step / 2);
        count = (int)Math.Ceiling((times[^1] - times[0] + (2 * widest)) / Step) + 2;
        var whole = (count + Lanes - 1) / Lanes * Lanes;
        (still, power, sums) = (new double[whole], new double[whole], new double[count + 1]);
        (main, beside) = (new(whole, first), new(whole, first));
        var (loud, next) = (Math.Pow(10, before / 10), Math.Pow(10, after / 10));
        for (var i = 0; i < whole; i++) still[i] = first + (i * Step) < turn ? loud : next;
        starts = [.. times.Select((t, i) => Place(t - (windows[i] / 2)))];
        ends = [.. times.Select((t, i) => Place(t + (windows[i] / 2)))];
        perWindow = [.. windows.Select(w => Step / w)];
    }

    /// <summary>dB that each reading would show.</summary>
    /// <param name="dips">The model.</param>
    /// <param name="db">One figure a reading; filled in whole vectors, so with as many figures more as <see cref="Padding"/> says.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Read(in Dips dips, Span<double> db)
    {
        Run(dips);
        for (var i = 0; i < starts.Length; i++) db[i] = ((Sum(ends[i]) - Sum(starts[i])) * perWindow[i]) + floor;
        var scale = new Vector<double>(10 / Math.Log(10));
        for (var i = 0; i < starts.Length; i += Lanes) (Vector.Log(new Vector<double>(db[i..])) * scale).CopyTo(db[i..]);
    }

    /// <summary>Figures that may be written beyond the last reading's.</summary>
    public static int Padding => Lanes;

    private (int Step, double Part) Place(double t)
    {
        var x = Math.Clamp((t - first + (Step / 2)) / Step, 0, count - 0.001);
        return ((int)x, x - (int)x);
    }

    private double Sum((int Step, double Part) at) => sums[at.Step] + (at.Part * (sums[at.Step + 1] - sums[at.Step]));

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Run(in Dips dips)
    {
        still.CopyTo(power, 0);
        main.Move(dips.Main);
        if (dips.Beside is { } other) beside.Move(other);
        var (from, to) = dips.Beside is null ? (main.From, main.To) : (Math.Min(main.From, beside.From), Math.Max(main.To, beside.To));
        var (deep, deepBeside) = (new Vector<double>(-dips.Main.Depth), new Vector<double>(-(dips.Beside?.Depth ?? 0)));
        var (deepest, perDb) = (new Vector<double>(-Dips.Deepest), new Vector<double>(Math.Log(10) / 10));
        for (var i = from; i < to; i += Lanes)
        {
            var db = deep * new Vector<double>(main.Share, i);
            if (dips.Beside is not null) db = Vector.Max(deepest, db + (deepBeside * new Vector<double>(beside.Share, i)));
            (new Vector<double>(still, i) * Vector.Exp(db * perDb)).CopyTo(power, i);
        }

        if (share > 0) Fill();
        var sum = 0.0;
        for (var i = 0; i < count; i++) sums[i + 1] = sum += power[i];
    }

    private void Fill()
    {
        var room = still[0];
        for (var i = 0; i < count; i++)
        {
            room = (keeps * room) + ((1 - keeps) * power[i]);
            power[i] += share * (room - power[i]);
        }
    }

    // A dip's flanks on the steps: 0 where it is not, 1 at its bottom.
    private sealed class Flanks(int count, double first)
    {
        private (double Centre, double Fall, double Rise, double Hold, bool Pointed) shape;

        public double[] Share { get; } = new double[count];

        // Whole vectors.
        public int From { get; private set; }

        public int To { get; private set; }

        [MethodImpl(MethodImplOptions.AggressiveOptimization)]
        public void Move(in DipShape dip)
        {
            var asked = (dip.Centre, dip.Fall, dip.Rise, dip.Hold, dip.Pointed);
            if (shape == asked) return;
            Share.AsSpan(From, To - From).Clear();
            shape = asked;
            From = (int)Math.Clamp(((dip.Start - first) / Step) - 1, 0, count) / Lanes * Lanes;
            To = Math.Clamp(((int)Math.Clamp(((dip.End - first) / Step) + 2, 0, count) + Lanes - 1) / Lanes * Lanes, From, count);
            var (centre, hold, fall, rise) = (new Vector<double>(dip.Centre), new Vector<double>(dip.Hold / 2), new Vector<double>(1 / dip.Fall), new Vector<double>(1 / dip.Rise));
            var (half, pi) = (new Vector<double>(0.5), new Vector<double>(Math.PI));
            for (var i = From; i < To; i += Lanes)
            {
                var t = new Vector<double>(first + (i * Step)) + (Lane * Step) - centre;
                var along = (Vector.Abs(t) - hold) * Vector.ConditionalSelect(Vector.LessThan(t, Vector<double>.Zero), fall, rise);
                var within = Vector.Min(Vector<double>.One, Vector.Max(Vector<double>.Zero, along));
                (dip.Pointed ? Vector<double>.One - Vector.Sin(pi * half * within) : half + (half * Vector.Cos(pi * within))).CopyTo(Share, i);
            }
        }
    }
}
