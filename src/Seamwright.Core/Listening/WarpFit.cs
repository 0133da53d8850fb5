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
    private const double Enough = 5e-3;

    // A bend of so many octaves between neighbouring knots is ordinary.
    private const double Bend = 1 / 1200.0;

    // Samples of a difference that say one new thing: what is left is mostly a few low harmonics.
    private const double Alike = 5;

    // No two periods of real sound are more alike than this share of their power.
    private const double LeastMisfit = 0.01;

    // As many periods are compared as fill this time, seconds: one of a high note says too little.
    private const double Lag = 0.008;

    // Steps are no longer than this, octaves.
    private const double LongestStep = 0.15;

    // Every so many samples are compared: to follow a way, and to look where one may begin.
    private const int Fine = 4;
    private const int Coarse = 8;

    private float[] y = [];
    private float[] weight = [];
    private double start;
    private int count;
    private int periods;
    private int half;

    // Of the knots: Hz, and periods since the first.
    private double[] hz = [];
    private double[] phase = [];

    // Of each difference that was taken: where the later sound lies, in knots; Hz there; what differs, how fast that changes a sample; the sound's own
    // energy; and how badly it fits all about.
    private int used;
    private int stride;
    private float[] later = [];
    private float[] laterHz = [];
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
        var system = new BandedSystem(n, Math.Min(n, (int)Math.Ceiling((periods + 0.2) * 1.15 / Math.Pow(2, u.Min()) / guess.Step) + 4));
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

    private double Cost(ReadOnlySpan<double> u)
    {
        // Logarithms of products: one for eight figures.
        var (sum, product) = (0.0, 1.0);
        for (var k = 0; k < used; k++)
        {
            product *= 1 + (misfit[k] / LeastMisfit);
            if ((k & 7) == 7) (sum, product) = (sum + Math.Log(product), 1);
        }

        var (bends, other) = (0.0, 1.0);
        for (var k = 1; k + 1 < u.Length; k++)
        {
            var d = (u[k - 1] - (2 * u[k]) + u[k + 1]) / Bend;
            other *= 1 + (d * d);
            if ((k & 7) == 7) (bends, other) = (bends + Math.Log(other), 1);
        }

        return ((sum + Math.Log(product)) * stride / (2 * Alike)) + bends + Math.Log(other);
    }

    // Differences of neighbouring periods along a way, and about each how well it fits; returns the mean misfit.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private double Evaluate(PitchWay grid, ReadOnlySpan<double> u, int every)
    {
        var (first, last) = (First(grid), Last(grid));
        Phases(grid, u);
        Room(last - first + 1);
        (stride, used) = (every, 0);
        var (total, all, perSample) = (0.0, 1e-9, 1 / (Rate * grid.Step));
        var at = (start + (first / (double)Rate) - grid.Start) / grid.Step;
        var (k, next, knots) = (0, 0, u.Length);
        for (var i = first; i <= last; i += every, at += every * perSample)
        {
            while (k + 2 < knots && k + 1 <= at) k++;
            var x = at - k;
            var wanted = phase[k] + (grid.Step * x * (hz[k] + (0.5 * x * (hz[k + 1] - hz[k])))) + periods;
            while (next + 2 < knots && phase[next + 1] <= wanted) next++;

            // Between two knots the pitch rises evenly, so the phase is a square in time.
            var (c, f, rise) = ((wanted - phase[next]) / grid.Step, hz[next], hz[next + 1] - hz[next]);
            var root = Math.Sqrt(Math.Max(0, (f * f) + (2 * rise * c)));
            var place = next + (2 * c / (f + root));
            var sample = i + ((place - at) / perSample);
            var j = (int)sample;
            if (j > last || place > knots - 1) break;
            Take(i, j, (float)(sample - j));
            (later[used], laterHz[used]) = ((float)place, (float)root);
            total += residual[used] * residual[used];
            all += energy[used];
            used++;
        }

        Surroundings();
        return total / all;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Take(int i, int j, float part)
    {
        var (p, q, r, s) = (y[j - 1], y[j], y[j + 1], y[j + 2]);
        var c1 = 0.5f * (r - p);
        var c2 = p - (2.5f * q) + (2 * r) - (0.5f * s);
        var c3 = (0.5f * (s - p)) + (1.5f * (q - r));
        var value = q + (part * (c1 + (part * (c2 + (part * c3)))));
        var w = Math.Min(weight[i], weight[j]);
        residual[used] = w * (y[i] - value);
        slope[used] = w * (c1 + (part * ((2 * c2) + (part * 3 * c3))));
        energy[used] = w * w * ((y[i] * y[i]) + (value * value));
    }

    private void Room(int length)
    {
        if (later.Length >= length) return;
        (later, laterHz, residual, slope, energy, misfit) =
            (new float[length], new float[length], new float[length], new float[length], new float[length], new double[length]);
    }

    private void Phases(PitchWay grid, ReadOnlySpan<double> u)
    {
        if (hz.Length < u.Length) (hz, phase) = (new double[u.Length], new double[u.Length]);
        for (var k = 0; k < u.Length; k++) hz[k] = Math.Exp(u[k] * Math.Log(2));
        for (var k = 1; k < u.Length; k++) phase[k] = phase[k - 1] + (0.5 * grid.Step * (hz[k - 1] + hz[k]));
    }

    // Mean misfit of the differences within half a period to either side; a little energy is always there, so that silence counts for nothing.
    private void Surroundings()
    {
        const double Silence = 0.02;
        var reach = Math.Max(1, half / stride);
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
        Span<double> row = stackalloc double[u.Length + BandedSystem.Padding];
        row.Clear();
        var at = (start + (First(grid) / (double)Rate) - grid.Start) / grid.Step;
        var rise = Math.Log(2) * grid.Step * Rate;
        for (var i = 0; i < used; i++, at += stride / (Rate * grid.Step))
        {
            var (from, to) = (Math.Clamp((int)at, 0, u.Length - 2), Math.Min((int)later[i], u.Length - 2));
            var (p, q, many) = (at - from, later[i] - to, to - from + 2);

            // A higher pitch on the way lets the next period come sooner: ds = −(1/f(s))·∫f·du, in samples. Each knot stands for a hat, of which
            // the first two lie partly before the way's beginning and the last two partly beyond its end.
            var scale = slope[i] / laterHz[i] * rise;
            for (var k = 0; k < many; k++) row[k] = 1;
            row[0] = 0.5 * (1 - p) * (1 - p);
            row[1] = 1 - (0.5 * p * p);
            row[many - 2] -= 0.5 * (1 - q) * (1 - q);
            row[many - 1] -= 1 - (0.5 * q * q);
            for (var k = 0; k < many; k++) row[k] *= scale * hz[from + k];
            system.Add(from, many, row, -residual[i], stride / (2 * Alike * (LeastMisfit + misfit[i])));
            row[..many].Clear();
        }

        for (var k = 1; k + 1 < u.Length; k++)
        {
            var d = (u[k - 1] - (2 * u[k]) + u[k + 1]) / Bend;
            (row[0], row[1], row[2]) = (1, -2, 1);
            system.Add(k - 1, 3, row, -d * Bend, 1 / (1 + (d * d)) / (Bend * Bend));
        }
    }
}
