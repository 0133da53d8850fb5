using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.Optimization;

namespace Seamwright.Core.Listening;

/// <summary>The dip behind a measured level curve: raised-cosine flanks in dB about a flat bottom, seen through the level's own window.</summary>
/// <remarks>A window that is longer than a dip shows it too shallow and too wide; so the model is smeared by the same window before it
/// is compared, and the parameters are read from the model, not from the curve.</remarks>
internal sealed class DipFit
{
    private readonly double[] times;
    private readonly double[] measured;
    private readonly double[] windows;
    private readonly double before;
    private readonly double after;
    private readonly double turn;
    private readonly double floor;

    /// <summary>Prepares a fit.</summary>
    /// <param name="times">Seconds, evenly spaced.</param>
    /// <param name="measured">dB at those times.</param>
    /// <param name="windows">The rectangular window each level was measured in, seconds.</param>
    /// <param name="before">Level of the first note, dB.</param>
    /// <param name="after">Level of the second note, dB.</param>
    /// <param name="turn">When one level gives way to the other.</param>
    /// <param name="floor">Level of the room, dB.</param>
    public DipFit(double[] times, double[] measured, double[] windows, double before, double after, double turn, double floor)
    {
        this.times = times;
        this.measured = measured;
        this.windows = windows;
        this.before = before;
        this.after = after;
        this.turn = turn;
        this.floor = Math.Pow(10, floor / 10);
    }

    /// <summary>What was found: the model's own curve is read, in dB below the quieter neighbour.</summary>
    internal readonly record struct Result(double Depth, double Centre, double HalfWidth, double Below10, double Below20, double Error);

    /// <summary>The best of several starts; null where there is no dip.</summary>
    public Result? Solve()
    {
        var quieter = Math.Min(before, after);
        var lowest = 0;
        for (var i = 1; i < measured.Length; i++)
        {
            if (measured[i] < measured[lowest]) lowest = i;
        }

        var depth = quieter - measured[lowest];
        if (depth < 0.3) return null;
        var width = Math.Max(0.006, Count(quieter - (depth / 2)) * Step - (windows[lowest] / 3));
        Vector<double>? best = null;
        var error = double.MaxValue;
        foreach (var (w, hold, d) in ((double, double, double)[])[(width, 0.002, depth * 1.15), (width * 0.6, width * 0.6, depth * 1.6)])
        {
            var start = Vector<double>.Build.DenseOfArray([times[lowest] * 100, Math.Log(w), hold * 100, d / 10]);
            var found = Minimise(start);
            var e = Misfit(found);
            if (e < error) (best, error) = (found, e);
        }

        return best is null ? null : Read(best, quieter, error);
    }

    private double Step => times.Length > 1 ? times[1] - times[0] : 0.001;

    private Vector<double> Minimise(Vector<double> start)
    {
        var perturbation = Vector<double>.Build.DenseOfArray([0.3, 0.25, 0.4, 0.3]);
        try
        {
            return NelderMeadSimplex.Minimum(ObjectiveFunction.Value(Misfit), start, perturbation, 1e-5, 400).MinimizingPoint;
        }
        catch (MathNet.Numerics.Optimization.MaximumIterationsException)
        {
            return start;
        }
    }

    // Mean square misfit in dB², and a small price for flat bottoms and for depths no window can see.
    private double Misfit(Vector<double> p)
    {
        var (centre, flank, hold, depth) = Parameters(p);
        var sums = RunningPower(centre, flank, hold, depth);
        var total = 0.0;
        for (var i = 0; i < times.Length; i++)
        {
            var power = (Integral(sums, times[i] + (windows[i] / 2)) - Integral(sums, times[i] - (windows[i] / 2))) / windows[i];
            var off = measured[i] - (10 * Math.Log10(power + floor));
            total += off * off;
        }

        return (total / times.Length) + (2 * hold) + (0.001 * Math.Max(0, depth - 30));
    }

    private static (double Centre, double Flank, double Hold, double Depth) Parameters(Vector<double> p) =>
        (p[0] / 100, Math.Exp(Math.Clamp(p[1], -6, -1)), Math.Abs(p[2]) / 100, Math.Min(70, Math.Abs(p[3]) * 10));

    // The model continues half a window beyond the measured times on both sides.
    private double Lead => windows.Max();

    private double[] RunningPower(double centre, double flank, double hold, double depth)
    {
        var step = Step / 2;
        var count = (int)Math.Ceiling((times[^1] - times[0] + (2 * Lead)) / step) + 2;
        var sums = new double[count + 1];
        for (var i = 0; i < count; i++)
        {
            var t = times[0] - Lead + ((i + 0.5) * step);
            sums[i + 1] = sums[i] + (Math.Pow(10, Model(t, centre, flank, hold, depth) / 10) * step);
        }

        return sums;
    }

    private double Integral(double[] sums, double t)
    {
        var x = Math.Clamp((t - times[0] + Lead) / (Step / 2), 0, sums.Length - 1.001);
        var i = (int)x;
        return sums[i] + ((x - i) * (sums[i + 1] - sums[i]));
    }

    private double Model(double t, double centre, double flank, double hold, double depth)
    {
        var level = t < turn ? before : after;
        var away = Math.Abs(t - centre) - (hold / 2);
        var share = away <= 0 ? 1 : away >= flank ? 0 : (1 + Math.Cos(Math.PI * away / flank)) / 2;
        return level - (depth * share);
    }

    private Result Read(Vector<double> p, double quieter, double error)
    {
        var (centre, flank, hold, depth) = Parameters(p);
        const double Fine = 0.0002;
        var from = centre - flank - (hold / 2);
        var count = (int)(((2 * flank) + hold) / Fine) + 1;
        var lowest = double.MaxValue;
        for (var i = 0; i <= count; i++) lowest = Math.Min(lowest, Model(from + (i * Fine), centre, flank, hold, depth));
        var deep = quieter - lowest;
        var (start, end) = Below(deep / 2);
        return new Result(deep, (start + end) / 2, end - start, deep > 10 ? Width(10) : 0, deep > 20 ? Width(20) : 0, error);

        double Width(double db)
        {
            var (a, b) = Below(db);
            return b - a;
        }

        (double Start, double End) Below(double db)
        {
            var (a, b) = (centre, centre);
            for (var i = 0; i <= count; i++)
            {
                var t = from + (i * Fine);
                if (Model(t, centre, flank, hold, depth) > quieter - db) continue;
                a = Math.Min(a, t);
                b = Math.Max(b, t);
            }

            return (a, b);
        }
    }

    private int Count(double level) => measured.Count(m => m < level);
}
