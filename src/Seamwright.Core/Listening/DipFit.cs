using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.Optimization;

namespace Seamwright.Core.Listening;

/// <summary>The dip behind a measured level curve: raised-cosine flanks in dB about a flat bottom, seen through the level's own window.</summary>
/// <remarks>A window that is longer than a dip shows it too shallow and too wide; so the model is smeared by the same window before it
/// is compared, and the parameters are read from the model, not from the curve.</remarks>
internal sealed class DipFit
{
    // Every second millisecond says all there is in windows of 13 ms and more.
    private const int Stride = 2;
    private const double ModelStep = 0.001;
    private const double LeastReach = 0.12;
    private const int MostSteps = 900;

    // Where the reading itself has fallen so far, the window lies inside the silence and has seen its bottom.
    private const double Inside = 30;

    private readonly double[] times;
    private readonly double[] measured;
    private readonly double[] windows;
    private readonly double before;
    private readonly double after;
    private readonly double turn;
    private readonly double floor;
    private readonly double rawWidth;
    private readonly double seen;
    private readonly double widest;
    private readonly double[] sums;

    /// <summary>Prepares a fit: only what lies near the deepest moment is kept.</summary>
    /// <param name="times">Seconds, evenly spaced.</param>
    /// <param name="measured">dB at those times.</param>
    /// <param name="windows">The rectangular window each level was measured in, seconds.</param>
    /// <param name="before">Level of the first note, dB.</param>
    /// <param name="after">Level of the second note, dB.</param>
    /// <param name="turn">When one level gives way to the other.</param>
    /// <param name="floor">Level of the room, dB.</param>
    public DipFit(double[] times, double[] measured, double[] windows, double before, double after, double turn, double floor)
    {
        this.before = before;
        this.after = after;
        this.turn = turn;
        this.floor = Math.Pow(10, floor / 10);
        var lowest = Lowest(measured);
        var quieter = Math.Min(before, after);
        seen = quieter - measured[lowest];
        rawWidth = Width(measured, lowest, (quieter + measured[lowest]) / 2) * (times.Length > 1 ? times[1] - times[0] : ModelStep);
        var reach = Math.Max(LeastReach, (1.5 * rawWidth) + windows[lowest]);
        var kept = Enumerable.Range(0, times.Length).Where(i => i % Stride == lowest % Stride && Math.Abs(times[i] - times[lowest]) <= reach).ToArray();
        this.times = [.. kept.Select(i => times[i])];
        this.measured = [.. kept.Select(i => measured[i])];
        this.windows = [.. kept.Select(i => windows[i])];
        widest = this.windows.Max();
        sums = new double[(int)Math.Ceiling((this.times[^1] - this.times[0] + (2 * widest)) / ModelStep) + 3];
    }

    /// <summary>What was found: the model's own curve is read, in dB below the quieter neighbour.</summary>
    internal readonly record struct Result(double Depth, double Centre, double HalfWidth, double Below20, DipShape Shape);

    /// <summary>The best of several starts; null where there is no dip.</summary>
    public Result? Solve()
    {
        var quieter = Math.Min(before, after);
        var lowest = Lowest(measured);
        var depth = quieter - measured[lowest];
        if (depth < 0.3) return null;
        var width = Math.Max(0.006, rawWidth - (windows[lowest] / 3));
        Vector<double>? best = null;
        var error = double.MaxValue;
        foreach (var (w, hold, d) in ((double, double, double)[])[(width, 0.002, Deeper(depth, 1.15)), (width * 0.6, width * 0.6, Deeper(depth, 1.6))])
        {
            var start = Vector<double>.Build.DenseOfArray([times[lowest] * 100, Math.Log(w), hold * 100, d / 10]);
            var found = Minimise(start);
            var e = Misfit(found);
            if (e < error) (best, error) = (found, e);
        }

        return best is null ? null : Read(best, quieter);
    }

    private static double Deeper(double depth, double factor) => depth > Inside ? depth + 1 : depth * factor;

    private Vector<double> Minimise(Vector<double> start)
    {
        var perturbation = Vector<double>.Build.DenseOfArray([0.3, 0.25, 0.4, 0.3]);
        try
        {
            return NelderMeadSimplex.Minimum(ObjectiveFunction.Value(Misfit), start, perturbation, 1e-4, MostSteps).MinimizingPoint;
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
        Run(new DipShape(centre, flank, hold, depth));
        var total = 0.0;
        for (var i = 0; i < times.Length; i++)
        {
            var power = (Integral(times[i] + (windows[i] / 2)) - Integral(times[i] - (windows[i] / 2))) / windows[i];
            var off = measured[i] - (10 * Math.Log10(power + floor));
            total += off * off;
        }

        var beyond = seen > Inside ? 0.05 * Math.Max(0, depth - seen) : 0.001 * Math.Max(0, depth - 30);
        return (total / times.Length) + (2 * hold) + beyond;
    }

    private static (double Centre, double Flank, double Hold, double Depth) Parameters(Vector<double> p) =>
        (p[0] / 100, Math.Exp(Math.Clamp(p[1], -6, -1)), Math.Abs(p[2]) / 100, Math.Min(70, Math.Abs(p[3]) * 10));

    // Running power of the model, which continues a window beyond the measured times on both sides.
    private void Run(DipShape shape)
    {
        var (loud, next) = (Math.Pow(10, before / 10), Math.Pow(10, after / 10));
        for (var i = 0; i < sums.Length - 1; i++)
        {
            var t = times[0] - widest + ((i + 0.5) * ModelStep);
            var db = shape.At(t);
            sums[i + 1] = sums[i] + ((t < turn ? loud : next) * (db == 0 ? 1 : Math.Exp(db * (Math.Log(10) / 10))) * ModelStep);
        }
    }

    private double Integral(double t)
    {
        var x = Math.Clamp((t - times[0] + widest) / ModelStep, 0, sums.Length - 1.001);
        var i = (int)x;
        return sums[i] + ((x - i) * (sums[i + 1] - sums[i]));
    }

    private double Model(double t, double centre, double flank, double hold, double depth) =>
        (t < turn ? before : after) + new DipShape(centre, flank, hold, depth).At(t);

    private Result Read(Vector<double> p, double quieter)
    {
        var (centre, flank, hold, depth) = Parameters(p);
        const double Fine = 0.0002;
        var from = centre - flank - (hold / 2);
        var count = (int)(((2 * flank) + hold) / Fine) + 1;
        var lowest = double.MaxValue;
        for (var i = 0; i <= count; i++) lowest = Math.Min(lowest, Model(from + (i * Fine), centre, flank, hold, depth));
        var deep = quieter - lowest;
        var (start, end) = Below(deep / 2);
        return new Result(deep, (start + end) / 2, end - start, deep > 20 ? Width(20) : 0, new DipShape(centre, flank, hold, depth));

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

    private static int Lowest(double[] measured)
    {
        var lowest = 0;
        for (var i = 1; i < measured.Length; i++)
        {
            if (measured[i] < measured[lowest]) lowest = i;
        }

        return lowest;
    }

    // Samples about the deepest one that stay below a level.
    private static int Width(double[] measured, int lowest, double level)
    {
        var (a, b) = (lowest, lowest);
        while (a > 0 && measured[a - 1] < level) a--;
        while (b < measured.Length - 1 && measured[b + 1] < level) b++;
        return b - a + 1;
    }
}

/// <summary>Raised-cosine flanks in dB about a flat bottom.</summary>
/// <param name="Centre">Seconds.</param>
/// <param name="Flank">Length of each flank, seconds.</param>
/// <param name="Hold">Length of the bottom, seconds.</param>
/// <param name="Depth">dB, positive.</param>
internal readonly record struct DipShape(double Centre, double Flank, double Hold, double Depth)
{
    /// <summary>dB, 0 or less.</summary>
    public double At(double t)
    {
        var away = Math.Abs(t - Centre) - (Hold / 2);
        var share = away <= 0 ? 1 : away >= Flank ? 0 : (1 + Math.Cos(Math.PI * away / Flank)) / 2;
        return -Depth * share;
    }
}
