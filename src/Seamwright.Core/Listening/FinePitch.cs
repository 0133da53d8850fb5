using System.Numerics;
using System.Runtime.CompilerServices;
namespace Seamwright.Core.Listening;

/// <summary>Pitch millisecond by millisecond through a note change, in the shortest window that still holds two periods.</summary>
/// <remarks>Normalised correlation of two neighbouring stretches, each one period of the lowest pitch long, laid symmetrically about
/// the moment: no lag in time, blurred by √((W² + L²)/12) for a stretch W and a lag L (see <see cref="Blur"/>).</remarks>
internal sealed class FinePitch
{
    /// <summary>Samples a second it works at.</summary>
    public const int Rate = 16000;

    /// <summary>Seconds between moments.</summary>
    public const double Hop = 0.001;

    // A shorter lag wins over a longer one that is hardly better: multiples of a period repeat just as well.
    private const float NearlyBest = 0.93f;
    private const int LagsAtMost = 700;

    private readonly float[] samples;
    private readonly double start;
    private readonly int count;
    private readonly double[] squares;
    private readonly Lags lags;
    private readonly float[] strength;

    /// <summary>Prepares a sound.</summary>
    /// <param name="samples">At <see cref="Rate"/>.</param>
    /// <param name="count">How many of them.</param>
    /// <param name="squares">Their running sum of squares, as <see cref="Energy.Sum"/> fills it.</param>
    /// <param name="start">Time of the first sample, seconds.</param>
    /// <param name="lags">Room to work in, used again from sound to sound; null for its own.</param>
    public FinePitch(float[] samples, int count, double[] squares, double start, Lags? lags = null)
    {
        (this.samples, this.count, this.squares, this.start, this.lags) = (samples, count, squares, start, lags ?? new());
        strength = this.lags.Strength;
    }

    /// <summary>What is found at each lag.</summary>
    internal sealed class Lags
    {
        public float[] Strength { get; } = new float[LagsAtMost + 2];

        public double[] Products { get; } = new double[LagsAtMost + 2 + Vector<double>.Count];

        public double[] Energies { get; } = new double[LagsAtMost + 2 + Vector<double>.Count];
    }

    /// <summary>The same sound over a span with a dip undone, so that the louder sound on either side does not drown the pitch inside it.</summary>
    /// <param name="from">Seconds.</param>
    /// <param name="to">Seconds.</param>
    /// <param name="dip">The dip in dB, 0 or less.</param>
    /// <param name="most">Largest gain, dB: beyond it noise would be lifted.</param>
    public FinePitch Undipped(double from, double to, Func<double, double> dip, double most)
    {
        var first = Math.Clamp((int)((from - start) * Rate), 0, count);
        var last = Math.Clamp((int)((to - start) * Rate), first, count);
        var lifted = samples[first..last];
        for (var i = 0; i < lifted.Length; i++)
        {
            var db = Math.Min(most, -dip(start + ((first + i) / (double)Rate)));
            if (db > 0) lifted[i] *= (float)Math.Pow(10, db / 20);
        }

        var sums = new double[lifted.Length + 1];
        Energy.Sum(lifted, sums);
        return new FinePitch(lifted, lifted.Length, sums, start + (first / (double)Rate), lags);
    }

    /// <summary>Standard deviation in seconds of the window's own smearing at a pitch.</summary>
    public static double Blur(double lowestHz, double hz) => Math.Sqrt(((1 / (lowestHz * lowestHz)) + (1 / (hz * hz))) / 12);

    /// <summary>Pitch and correlation at one moment.</summary>
    /// <param name="time">Seconds.</param>
    /// <param name="low">Lowest pitch looked for, Hz; also sets the window.</param>
    /// <param name="high">Highest pitch looked for, Hz.</param>
    /// <param name="window">Length of each stretch in seconds.</param>
    /// <returns>0 Hz where nothing repeats.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public Candidate At(double time, double low, double high, double window)
    {
        var shortest = Math.Max(4, (int)(Rate / high));
        var longest = Math.Min(LagsAtMost, (int)Math.Ceiling(Rate / low));
        var width = (int)Math.Round(window * Rate);
        Correlate(time, shortest - 1, longest + 1, width);
        var best = 0f;
        for (var lag = shortest; lag <= longest; lag++) best = Math.Max(best, strength[lag]);

        for (var lag = shortest; lag <= longest; lag++)
        {
            var s = strength[lag];
            if (s >= NearlyBest * best && s > 0.2f && s >= strength[lag - 1] && s > strength[lag + 1]) return Peak(lag);
        }

        return new(0, best);
    }

    /// <summary>A steady stretch's pitch from many periods at once: as exact as the stretch allows.</summary>
    /// <param name="from">Seconds.</param>
    /// <param name="to">Seconds.</param>
    /// <param name="near">A first guess, Hz, right within a third of a period over the stretch.</param>
    /// <returns>0 Hz where nothing repeats.</returns>
    public Candidate Steady(double from, double to, double near)
    {
        var hz = near;
        var strength0 = 0f;
        for (var periods = 1; ; periods *= 2)
        {
            var lag = periods * Rate / hz;
            var width = (to - from) - (lag / Rate);
            if (periods > 1 && (width < 2 / hz || lag > 0.5 * (to - from) * Rate)) return new((float)hz, strength0);
            var found = Near((from + to) / 2, lag, Math.Max(width, 2 / hz), periods);
            if (found.Strength < 0.5f) return new((float)(periods > 1 ? hz : 0), strength0);
            (hz, strength0) = (found.Hz, found.Strength);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private Candidate Near(double time, double lag, double window, int periods)
    {
        var reach = Math.Max(2, (int)(lag * 0.03 / Math.Max(1, periods / 2)) + 1);
        var width = (int)(window * Rate);
        var centre = (int)Math.Round(lag);
        var (at, best) = (centre, float.MinValue);
        for (var l = Math.Max(2, centre - reach); l <= centre + reach; l++)
        {
            var s = Correlation(time, l, width);
            if (s > best) (at, best) = (l, s);
        }

        var (a, b, c) = (Correlation(time, at - 1, width), best, Correlation(time, at + 1, width));
        var curve = a - (2 * b) + c;
        var shift = curve < 0 ? 0.5f * (a - c) / curve : 0;
        return new((float)(periods * (double)Rate / (at + shift)), b);
    }

    private Candidate Peak(int lag)
    {
        var (a, b, c) = (strength[lag - 1], strength[lag], strength[lag + 1]);
        var curve = a - (2 * b) + c;
        var shift = curve < 0 ? 0.5f * (a - c) / curve : 0;
        return new(Rate / (lag + shift), Math.Min(1, b));
    }

    // The same at many lags: roots and quotients several at a time.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Correlate(double time, int from, int to, int width)
    {
        var (products, energies) = (lags.Products, lags.Energies);
        var at = (time - start) * Rate;
        var part = samples.AsSpan(0, count);
        for (var lag = from; lag <= to; lag++)
        {
            (products[lag], energies[lag]) = (0, 1);
            var first = (int)Math.Round(at - ((width + lag) / 2.0));
            if (first < 0 || first + lag + width > count) continue;
            var energy = (squares[first + width] - squares[first]) * (squares[first + lag + width] - squares[first + lag]);
            if (energy <= 1e-14) continue;
            energies[lag] = energy;
            products[lag] = Vectors.Dot(part.Slice(first, width), part.Slice(first + lag, width));
        }

        for (var lag = from; lag <= to; lag += Vector<double>.Count)
        {
            var quotient = new Vector<double>(products, lag) / Vector.SquareRoot(new Vector<double>(energies, lag));
            quotient.CopyTo(products, lag);
        }

        for (var lag = from; lag <= to; lag++) strength[lag] = (float)products[lag];
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private float Correlation(double time, int lag, int width)
    {
        var first = (int)Math.Round(((time - start) * Rate) - ((width + lag) / 2.0));
        if (first < 0 || first + lag + width > count) return 0;
        var energy = (squares[first + width] - squares[first]) * (squares[first + lag + width] - squares[first + lag]);
        if (energy <= 1e-14) return 0;
        return (float)(Vectors.Dot(samples.AsSpan(first, width), samples.AsSpan(first + lag, width)) / Math.Sqrt(energy));
    }
}
