using System.Numerics;

namespace Seamwright.Core.Listening;

/// <summary>Fits a <see cref="GlideShape"/> to the pitch read through a change.</summary>
/// <remarks>Each reading compares two neighbouring stretches of sound, so it is smeared: over the lag by the mean of the pitch, over the
/// stretch by the correlation's own peak, which stands where most of the sound agrees, not at the mean, once the pitches differ
/// by more than the peak is wide. The model is read through the same two windows before it is compared.</remarks>
internal sealed class GlideFit
{
    private const double GridStep = 0.001;
    private const double PerSecond = 1 / GridStep;
    private const double Margin = 0.05;

    // So many readings to a window: more would only repeat what they say.
    private const int ReadingsAWindow = 5;
    private const double ReachAtLeast = 0.07;
    private const double ReachAcrossPartials = 0.12;
    private const double ShortestMove = 0.004;
    private const double LongestMove = 1.2;

    // Beside a jump only the arm slides, and no arm is faster.
    private const double ShortestArm = 0.06;

    // Width of the correlation's peak as a share of the lag that sounding brass shows: half a semitone either side.
    private const double PeakWidth = 0.03;
    private const int Stretches = 6;

    // A jump lies so near the middle of the unperiodic moment, for a cent of misfit.
    private const double JumpDoubt = 0.001;

    // Cents of misfit that a slide beside the jump, of the whole interval, must be worth: where nothing shows it, all of it jumps.
    private const double WholeJump = 6;

    // A figure the readings say nothing about.
    private const double MostDoubt = 0.1;

    // Cents within which a mean and a mode are the same.
    private const double Narrow = 15;

    // Cents of misfit below which no better minimum is looked for.
    private const double Fits = 4;

    // Cents beyond which a reading is thought to be of something else.
    private const double Believable = 60;

    private readonly double[] times;
    private readonly double[] cents;
    private readonly double[] weights;
    private readonly double[] weightGrid;
    private readonly double[] path;
    private readonly double[] sums;
    private readonly int step;
    private readonly int count;
    private readonly double centre;
    private readonly double gridStart;
    private readonly double span;
    private readonly double lowHz;
    private readonly double firstHz;
    private readonly double tubeRatio;
    private readonly double[] misfits;
    private readonly double[] averaged = new double[Stretches];
    private readonly double[] stretchWeights = new double[Stretches];

    /// <param name="curve">Pitch through the change.</param>
    /// <param name="from">Pitch of the first note, Hz.</param>
    /// <param name="to">Pitch of the second.</param>
    /// <param name="near">The way as read off the curve: what lies far from it is left out.</param>
    /// <param name="power">Relative power at a time: what is louder is heard more.</param>
    /// <param name="tubeRatio">See <see cref="GlideShape.TubeRatio"/>.</param>
    /// <param name="mayBreak">Whether the slide may run on another partial, before or after, against the pitch.</param>
    public GlideFit(ChangeCurve curve, double from, double to, GlideReading near, Func<double, double> power, double tubeRatio, bool mayBreak)
    {
        (firstHz, lowHz, span, this.tubeRatio) = (from, Math.Min(from, to), 1200 * Math.Log2(to / from), tubeRatio);
        centre = near.Centre;
        step = Math.Max(2, (int)Math.Round(1 / lowHz / FinePitch.Hop * 2 / ReadingsAWindow / 2) * 2);
        var least = mayBreak ? ReachAcrossPartials : ReachAtLeast;
        var reach = Math.Max(least, 1.4 * (near.To - near.From)) + (2 / lowHz);
        var first = curve.Index(near.Centre - reach) / 2 * 2;
        var last = curve.Index(near.Centre + reach);
        var used = Enumerable.Range(first, last - first + 1).Where(i => (i - first) % step == 0 && Usable(curve, i)).ToArray();
        times = [.. used.Select(curve.Time)];
        cents = [.. used.Select(i => 1200 * Math.Log2(curve.Hz[i] / from))];
        misfits = new double[(times.Length + Vector<double>.Count - 1) / Vector<double>.Count * Vector<double>.Count];
        weights = [.. used.Select(i => Math.Clamp((curve.Strength[i] - 0.5) / 0.4, 0.05, 1))];
        gridStart = curve.Time(first) - Margin;
        count = (int)((curve.Time(last) + Margin - gridStart) / GridStep) + 2;
        path = new double[(count + Vector<double>.Count - 1) / Vector<double>.Count * Vector<double>.Count];
        sums = new double[count + 1];
        weightGrid = [.. Enumerable.Range(0, count).Select(i => Math.Sqrt(power(gridStart + (i * GridStep))))];
    }

    /// <summary>What was found.</summary>
    /// <param name="Shape">The way.</param>
    /// <param name="LengthDeviation">Standard deviation of the 10–90 % time, seconds.</param>
    /// <param name="CentreDeviation">Of the half-way time, seconds.</param>
    /// <param name="Misfit">Root mean square of the residuals, cents.</param>
    public readonly record struct Result(GlideShape Shape, double LengthDeviation, double CentreDeviation, double Misfit);

    /// <summary>Readings that can be fitted.</summary>
    public int Count => times.Length;

    /// <summary>Readings that do not overlap.</summary>
    public double Independent => Count * step * FinePitch.Hop * lowHz / 2;

    /// <summary>One movement of the slide, or of the lips.</summary>
    public Result? Slide(double length)
    {
        if (Count < 8) return null;
        var found = Best([[centre * 10, Math.Log(Math.Clamp(length, ShortestMove * 1.5, LongestMove / 2))]]);
        if (found.Misfit < Fits) return found;
        var other = Best([[centre * 10, Math.Log(0.02)], [centre * 10, Math.Log(0.2)]]);
        return other.Misfit < found.Misfit ? other : found;
    }

    /// <summary>A movement with a jump in it.</summary>
    public Result? SlideAndJump(double length)
    {
        if (Count < 12) return null;
        var log = Math.Log(Math.Clamp(length, 1.2 * ShortestArm, LongestMove / 2));
        return Best([[centre * 10, log, 0.6, centre * 10], [centre * 10, Math.Log(0.15), 1.15, centre * 10]]);
    }

    private static bool Usable(ChangeCurve curve, int i) => curve.Hz[i] > 0 && curve.Strength[i] >= 0.5f;

    private Result Best(double[][] starts)
    {
        LeastSquares.Solution? best = null;
        foreach (var start in starts)
        {
            var found = LeastSquares.Solve(Residuals, start, times.Length + 2);
            if (best is null || found.MeanSquare < best.MeanSquare) best = found;
        }

        var (length, centre) = Deviations(best!);
        return new Result(Shape(best!.Parameters), length, centre, Math.Sqrt(best.MeanSquare));
    }

    private GlideShape Shape(ReadOnlySpan<double> p)
    {
        var length = Math.Clamp(Math.Exp(p[1]), p.Length == 2 ? ShortestMove : ShortestArm, LongestMove);
        return p.Length == 2
            ? new GlideShape(p[0] / 10, length, 0, 0) { TubeRatio = tubeRatio }
            : new GlideShape(p[0] / 10, length, Math.Clamp(p[2], 0.2, 1.8), p[3] / 10);
    }

    private void Residuals(ReadOnlySpan<double> p, Span<double> residuals)
    {
        var shape = Shape(p);
        var (start, end) = (shape.Start, shape.End);
        shape.At(gridStart, GridStep, span, path);
        for (var i = 0; i < sums.Length - 1; i++) sums[i + 1] = sums[i] + path[i];
        for (var i = 0; i < times.Length; i++) misfits[i] = cents[i] - Read(times[i], start, end);
        for (var i = 0; i < misfits.Length; i += Vector<double>.Count)
        {
            // tanh of what is off, in units of what can be believed.
            var grown = Vector.Exp(new Vector<double>(misfits, i) * (2 / Believable));
            (Vector<double>.One - (new Vector<double>(2) / (grown + Vector<double>.One))).CopyTo(misfits, i);
        }

        for (var i = 0; i < times.Length; i++) residuals[i] = weights[i] * Believable * misfits[i];

        // While nothing is periodic the readings favour the shorter period; the middle of that moment is the better witness.
        residuals[^2] = p.Length == 2 ? 0 : Math.Sqrt(times.Length) * WholeJump * (1 - shape.Jump);
        residuals[^1] = p.Length == 2 ? 0 : Math.Sqrt(times.Length) * (shape.JumpAt - centre) / JumpDoubt;
    }

    // What the correlation's peak shows at a moment.
    private double Read(double time, double start, double end)
    {
        var furthest = 1.1 / lowHz;
        if (time + furthest < start) return 0;
        if (time - furthest > end) return span;
        var here = path[Index((time - gridStart) * PerSecond)];
        var lag = 1 / (firstHz * Math.Exp(here / 1200 * Math.Log(2)));
        var window = 1 / lowHz;
        var from = (time - ((window + lag) / 2) - gridStart) * PerSecond;
        (lag, window) = (lag * PerSecond, window * PerSecond / Stretches);
        var total = 0.0;
        var mean = 0.0;
        var (lowest, highest) = (double.MaxValue, double.MinValue);
        for (var k = 0; k < Stretches; k++)
        {
            var n = from + ((k + 0.5) * window);
            var (value, weight) = (Mean(n, n + lag), weightGrid[Index(n)] * weightGrid[Index(n + lag)]);
            (averaged[k], stretchWeights[k]) = (value, weight);
            mean += value * weight;
            total += weight;
            (lowest, highest) = (Math.Min(lowest, value), Math.Max(highest, value));
        }

        mean /= Math.Max(total, 1e-12);
        return highest - lowest < Narrow ? mean : Mode(mean);
    }

    private double Mode(double start)
    {
        const double Width = PeakWidth * 1731;
        var at = start;
        for (var round = 0; round < 2; round++)
        {
            var (sum, total) = (0.0, 1e-12);
            for (var k = 0; k < Stretches; k++)
            {
                var x = (averaged[k] - at) / Width;
                var near = 1 / ((1 + (x * x)) * (1 + (x * x)));
                sum += near * stretchWeights[k] * averaged[k];
                total += near * stretchWeights[k];
            }

            at = sum / total;
        }

        return at;
    }

    // Steps from the grid's start, rounded, and within it.
    private int Index(double steps) => Math.Clamp((int)Math.Round(steps), 0, count - 1);

    private double Mean(double from, double to)
    {
        var (a, b) = (Math.Clamp(from + 0.5, 0, count - 0.001), Math.Clamp(to + 0.5, 0, count - 0.001));
        var (i, k) = ((int)a, (int)b);
        return (sums[k] + ((b - k) * path[k]) - sums[i] - ((a - i) * path[i])) / (b - a);
    }

    private (double Length, double Centre) Deviations(LeastSquares.Solution found)
    {
        var known = found.Deviations(Read, Math.Max(found.MeanSquare, 0.25), Math.Max(1, 2 / lowHz / (step * FinePitch.Hop)));
        return known is null ? (MostDoubt, MostDoubt) : (Math.Min(MostDoubt, known[0]), Math.Min(MostDoubt, known[1]));

        double[] Read(double[] p)
        {
            var (ten, half, ninety) = Shape(p).Passage();
            return [ninety - ten, half];
        }
    }
}
