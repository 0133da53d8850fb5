using System.Numerics;
using System.Runtime.CompilerServices;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Listening;

/// <summary>The pitch's way from one note to the next, as a share of the interval: the arm's minimum-jerk movement, and where a partial
/// breaks a jump on the way.</summary>
/// <param name="Centre">Middle of the arm's movement, seconds.</param>
/// <param name="Length">The whole movement, seconds.</param>
/// <param name="Jump">Share of the interval taken at once; 0 on one partial, over 1 where the slide runs against the pitch.</param>
/// <param name="JumpAt">When, seconds.</param>
internal readonly record struct GlideShape(double Centre, double Length, double Jump, double JumpAt)
{
    // Between two partials the pitch is nowhere for a moment: 8 ms is the median of 1–33 ms measured on one player.
    private const double JumpTime = 0.008;

    /// <summary>Tube length at the end of the movement over that at its beginning; 1 where the pitch itself is taken to move so.</summary>
    public double TubeRatio { get; init; } = 1;

    /// <summary>0 at the first note, 1 at the second.</summary>
    public double At(double t)
    {
        var moved = MinimumJerk.Progress((t - Centre) / Length + 0.5);
        var slid = Math.Abs(TubeRatio - 1) < 1e-6 ? moved : Math.Log(1 + ((TubeRatio - 1) * moved)) / Math.Log(TubeRatio);
        if (Jump == 0) return slid;
        var x = Math.Clamp(((t - JumpAt) / JumpTime) + 0.5, 0, 1);
        return ((1 - Jump) * slid) + (Jump * x * x * (3 - (2 * x)));
    }

    /// <summary>The same at evenly spaced times, several at once.</summary>
    /// <param name="first">The first time, seconds.</param>
    /// <param name="step">Between times, seconds.</param>
    /// <param name="scale">What a whole interval is called.</param>
    /// <param name="path">Filled; as long as whole vectors.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void At(double first, double step, double scale, Span<double> path)
    {
        var (zero, one) = (Vector<double>.Zero, Vector<double>.One);
        var bent = Math.Abs(TubeRatio - 1) >= 1e-6;
        var (ratio, perLog) = (new Vector<double>(TubeRatio - 1), new Vector<double>(1 / Math.Log(TubeRatio)));
        var (slides, jumps) = (new Vector<double>(scale * (1 - Jump)), new Vector<double>(scale * Jump));
        for (var i = 0; i < path.Length; i += Vector<double>.Count)
        {
            var t = Vector.CreateSequence(first + (i * step), step);
            var tau = Vector.Min(one, Vector.Max(zero, ((t - new Vector<double>(Centre)) * (1 / Length)) + new Vector<double>(0.5)));
            var slid = tau * tau * tau * (new Vector<double>(10) + (tau * ((6 * tau) - new Vector<double>(15))));
            if (bent) slid = Vector.Log(one + (ratio * slid)) * perLog;
            var x = Vector.Min(one, Vector.Max(zero, ((t - new Vector<double>(JumpAt)) * (1 / JumpTime)) + new Vector<double>(0.5)));
            ((slides * slid) + (jumps * x * x * (new Vector<double>(3) - (2 * x)))).CopyTo(path[i..]);
        }
    }

    /// <summary>Before this it is at the first note.</summary>
    public double Start => Math.Min(Centre - (Length / 2), Jump == 0 ? double.MaxValue : JumpAt - JumpTime);

    /// <summary>After this it is at the second.</summary>
    public double End => Math.Max(Centre + (Length / 2), Jump == 0 ? double.MinValue : JumpAt + JumpTime);

    /// <summary>The way proper: from where it last leaves the first tenth to where it first reaches the last one, and where it is half way.</summary>
    public (double Ten, double Half, double Ninety) Passage()
    {
        // Coarse steps find each crossing, halving makes it exact; a jump is never stepped over.
        var step = Math.Min((End - Start) / 40, JumpTime / 4);
        var ninety = Start;
        while (ninety < End && At(ninety) < 0.9) ninety += step;
        ninety = Halve(0.9, ninety - step, ninety);
        return (Last(0.1, ninety, step), Last(0.5, ninety, step), ninety);
    }

    private double Last(double share, double to, double step)
    {
        var t = to;
        while (t > Start && At(t) > share) t -= step;
        return Halve(share, t, t + step);
    }

    private double Halve(double share, double below, double above)
    {
        for (var round = 0; round < 8; round++)
        {
            var middle = (below + above) / 2;
            if (At(middle) < share) below = middle;
            else above = middle;
        }

        return (below + above) / 2;
    }
}
