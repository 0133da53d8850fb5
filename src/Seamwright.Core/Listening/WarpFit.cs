using System.Runtime.CompilerServices;
namespace Seamwright.Core.Listening;

/// <summary>Finds the way of a pitch along which the sound repeats itself best from each period to the next.</summary>
/// <remarks>With the phase φ(t) = ∫f the sound M periods later lies at s where φ(s) = φ(t) + M. Where f is the pitch's true way, x(s)
/// equals x(t) but for its level, however fast the pitch moves: no window blurs it. (The sound's own time is warped until it
/// is periodic; Képesi and Weruaga, "Adaptive chirp-based time–frequency analysis of speech signals", Speech Communication 48
/// (2006), warp by a chirp, here by any way.) Gauss–Newton steps on the differences, each weighed by how well its surroundings
/// repeat at all, with a price for bends so that stretches which say nothing are bridged; a price that grows by the logarithm,
/// so that a partial's jump, once the sound asks for it, is not rounded off.</remarks>
internal sealed class WarpFit
{
    private const int Rate = FinePitch.Rate;
    private const int MostRounds = 10;
    private const double Enough = 2e-3;

    public static double Env(string name, double d) => Environment.GetEnvironmentVariable(name) is { } v ? double.Parse(v) : d;

    // A bend of so many octaves between neighbouring knots is ordinary.
    private static readonly double Bend = Env("BEND", 1) / 1200.0;

    // Samples of a difference that say one new thing: what is left is mostly a few low harmonics.
    private static readonly double Alike = Env("ALIKE", 5);

    // No two periods of real sound are more alike than this share of their power.
    private static readonly double LeastMisfit = Env("LEASTV", 1e-2);

    private static readonly double Reach = Env("REACH", 0.5);
    private static readonly double Lag = Env("LAG", 0.008);

    // Steps are no longer than this, octaves.
    private const double LongestStep = 0.15;

    private static readonly int Fine = (int)Env("STRIDE", 3);
    private const int Coarse = 8;

    private float[] y = [];
    private float[] weight = [];
    private double start;
    private int count;
    private int periods;
    private int half;
    private double[] phase = [];
    private float[] hz = [];
    private double[] later = [];
    private float[] residual = [];
    private float[] slope = [];
    private float[] energy = [];
    private double[] misfit = [];

    /// <summary>Moves to another sound.</summary>
    /// <param name="samples">At <see cref="FinePitch.Rate"/>.</param>
    /// <param name="squares">Running sum of their squares, see <see cref="Energy.Sum"/>.</param>
    /// <param name="from">Time of the first sample, seconds.</param>
    /// <param name="period">The longest period, seconds.</param>
    /// <param name="noise">Mean square of what is not the tone.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Load(ReadOnlySpan<float> samples, ReadOnlySpan<double> squares, double from, double period, double noise)
    {
        (count, start) = (samples.Length, from);
        if (y.Length < count) (y, weight) = (new float[count * 3 / 2], new float[count * 3 / 2]);
        half = Math.Max(2, (int)(period * Rate / 2));
        periods = Math.Max(1, (int)Math.Round(Lag / period));
        for (var i = 0; i < count; i++)
        {
            var (a, b) = (Math.Max(0, i - half), Math.Min(count, i + half + 1));
            var power = Math.Max(0, (squares[b] - squares[a]) / (b - a));
            var smooth = i < 2 || i >= count - 2 ? 0 : (samples[i - 2] + samples[i + 2] + (4 * (samples[i - 1] + samples[i + 1])) + (6 * samples[i])) / 16;
            var scale = 1 / (power + noise + 1e-12);
            y[i] = (float)(smooth * Math.Sqrt(scale));
            weight[i] = (float)(Math.Max(0, power - noise) * scale);
        }
    }

    /// <summary>What was found.</summary>
    /// <param name="Way">The pitch.</param>
    /// <param name="Misfit">About each knot the mean square of the differences between periods over twice the mean square of the sound: 0 where it repeats
    /// wholly, about 1 where not at all.</param>
    /// <param name="Cost">What was made as small as could be: less is better.</param>
    public sealed record Result(PitchWay Way, double[] Misfit, double Cost);

    /// <summary>How badly a way fits as it is, looked at coarsely: mean over the whole of it.</summary>
    public double Misfit(PitchWay way) => Evaluate(way, way.Octaves, Coarse);

    /// <summary>A way as it is.</summary>
    public Result Read(PitchWay way)
    {
        Evaluate(way, way.Octaves, Fine);
        return new(way, Local(way), Cost(way.Octaves));
    }

    /// <summary>The best way near a first guess.</summary>
    public Result Solve(PitchWay guess)
    {
        var n = guess.Octaves.Length;
        var (u, trial) = ((double[])guess.Octaves.Clone(), new double[n]);
        var band = (int)Math.Ceiling((periods + 0.2) / Math.Pow(2, u.Min()) / guess.Step) + 3;
        var system = new BandedSystem(n, Math.Min(n, band));
        Evaluate(guess, u, Fine);
        var damping = 1e-3;
        var cost = Cost(u);
        for (var round = 0; round < MostRounds; round++)
        {
            Fill(system, guess, u);
            var before = cost;
            for (var attempt = 0; attempt < 4 && cost >= before; attempt++)
            {
                system.Solve(damping, trial);
                var most = 1e-12;
                foreach (var d in trial) most = Math.Max(most, Math.Abs(d));
                var scale = Math.Min(1, LongestStep / most);
                for (var k = 0; k < n; k++) trial[k] = u[k] + (scale * trial[k]);
                Evaluate(guess, trial, Fine);
                cost = Cost(trial);
                damping = cost < before ? Math.Max(1e-6, damping * 0.2) : damping * 10;
            }

            if (cost >= before) break;
            (trial, u) = (u, trial);
            if (before - cost < Enough * Math.Abs(before) && round > 1) break;
        }

        return Read(new PitchWay(guess.Start, guess.Step, u));
    }

    private int First(PitchWay way) => Math.Max(3, (int)((way.Start - start) * Rate));

    private int Last(PitchWay way) => Math.Min(count - 4, (int)((way.End - start) * Rate));

    private int used;
    private int stride;

    private double Cost(ReadOnlySpan<double> u)
    {
        var sum = 0.0;
        for (var k = 0; k < used; k++) sum += Math.Log(LeastMisfit + misfit[k]);
        var bends = 0.0;
        for (var k = 1; k + 1 < u.Length; k++)
        {
            var d = (u[k - 1] - (2 * u[k]) + u[k + 1]) / Bend;
            bends += Math.Log(1 + (d * d));
        }

        return ((sum - (used * Math.Log(LeastMisfit))) * stride / (2 * Alike)) + bends;
    }

    // Differences of neighbouring periods along a way, and about each how well it fits; returns the mean misfit.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private double Evaluate(PitchWay grid, double[] u, int every)
    {
        var (first, last) = (First(grid), Last(grid));
        var length = last - first + 1;
        if (phase.Length < length)
        {
            (phase, hz, residual, slope) = (new double[length], new float[length], new float[length], new float[length]);
            (later, energy, misfit) = (new double[length], new float[length], new double[length]);
        }

        Phases(grid, u, first, length);
        stride = every;
        used = 0;
        var (total, all) = (0.0, 1e-9);
        for (int i = 0, j = 0; i < length; i += every)
        {
            var wanted = phase[i] + periods;
            while (j + 1 < length && phase[j + 1] <= wanted) j++;
            if (j + 2 >= length) break;
            var part = (float)((wanted - phase[j]) / (phase[j + 1] - phase[j]));
            var (p, q, r, s) = (y[first + j - 1], y[first + j], y[first + j + 1], y[first + j + 2]);
            var c1 = 0.5f * (r - p);
            var c2 = p - (2.5f * q) + (2 * r) - (0.5f * s);
            var c3 = (0.5f * (s - p)) + (1.5f * (q - r));
            var value = q + (part * (c1 + (part * (c2 + (part * c3)))));
            var w = Math.Min(weight[first + i], weight[first + j]);
            var a = y[first + i];
            var d = w * (a - value);
            later[used] = j + part;
            residual[used] = d;
            slope[used] = w * (c1 + (part * ((2 * c2) + (part * 3 * c3))));
            energy[used] = w * w * ((a * a) + (value * value));
            total += d * d;
            all += energy[used];
            used++;
        }

        Surroundings();
        return total / all;
    }

    private void Phases(PitchWay grid, ReadOnlySpan<double> u, int first, int length)
    {
        var at = (start + (first / (double)Rate) - grid.Start) / grid.Step;
        var step = 1.0 / (Rate * grid.Step);
        var (sum, knot, here, rise) = (0.0, -1, 0.0, 0.0);
        for (var i = 0; i < length; i++, at += step)
        {
            var k = Math.Clamp((int)at, 0, u.Length - 2);
            if (k != knot)
            {
                knot = k;
                here = Math.Pow(2, u[k]) / Rate;
                rise = (Math.Pow(2, u[k + 1]) / Rate) - here;
            }

            var f = here + ((at - k) * rise);
            hz[i] = (float)f;
            phase[i] = sum;
            sum += f;
        }
    }

    // Mean misfit of the differences within half a period to either side; a little energy is always there, so that silence counts for nothing.
    private void Surroundings()
    {
        const double Silence = 0.02;
        var reach = Math.Max(1, (int)(Reach * 2 * half / stride));
        var (r, e, from, to) = (0.0, 0.0, 0, 0);
        for (var k = 0; k < used; k++)
        {
            for (; to < Math.Min(used, k + reach + 1); to++) (r, e) = (r + (residual[to] * residual[to]), e + energy[to]);
            for (; from < k - reach; from++) (r, e) = (r - (residual[from] * residual[from]), e - energy[from]);
            misfit[k] = Math.Max(0, r) / (e + (Silence * (to - from)));
        }
    }

    private double[] Local(PitchWay way)
    {
        var local = new double[way.Octaves.Length];
        var first = First(way);
        for (var k = 0; k < local.Length; k++)
        {
            var at = (way.Start + (k * way.Step) - start) * Rate;
            local[k] = used == 0 ? 1 : misfit[Math.Clamp((int)((at - half - first) / stride), 0, used - 1)];
        }

        return local;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Fill(BandedSystem system, PitchWay grid, double[] u)
    {
        system.Clear();
        Span<double> f = stackalloc double[u.Length];
        for (var k = 0; k < u.Length; k++) f[k] = Math.Pow(2, u[k]) * Math.Log(2) * grid.Step;
        Span<double> row = stackalloc double[u.Length];
        var offset = (start + (First(grid) / (double)Rate) - grid.Start) / grid.Step;
        var perSample = 1 / (Rate * grid.Step);
        for (var i = 0; i < used; i++)
        {
            var from = offset + (i * stride * perSample);
            var to = offset + (later[i] * perSample);
            var (k0, k1) = (Math.Max(0, (int)from), Math.Min(u.Length - 1, (int)to + 1));

            // A higher pitch before s lets the next period come sooner: ds = −(1/f(s))·∫f·du, in samples.
            var scale = slope[i] / hz[(int)later[i]];
            for (var k = k0; k <= k1; k++) row[k] = scale * f[k] * (Hat(to - k) - Hat(from - k));
            system.Add(row, k0, k1, -residual[i], stride / (2 * Alike * (LeastMisfit + misfit[i])));
        }

        for (var k = 1; k + 1 < u.Length; k++)
        {
            var d = (u[k - 1] - (2 * u[k]) + u[k + 1]) / Bend;
            (row[k - 1], row[k], row[k + 1]) = (1, -2, 1);
            system.Add(row, k - 1, k + 1, -d * Bend, 1 / (1 + (d * d)) / (Bend * Bend));
        }
    }

    // Running integral of a hat of width 1 to either side.
    private static double Hat(double x) => x <= -1 ? 0 : x >= 1 ? 1 : x < 0 ? 0.5 * (x + 1) * (x + 1) : 1 - (0.5 * (1 - x) * (1 - x));
}
