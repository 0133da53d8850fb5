using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;

namespace Seamwright.GroundTruth.Making;

/// <summary>One way of the pitch between two notes. Seconds and base-2 logarithms of Hz.</summary>
/// <param name="Index">Of the change.</param>
/// <param name="Start">When it leaves.</param>
/// <param name="Length">Of the whole way.</param>
/// <param name="From">Where it leaves.</param>
/// <param name="To">Where it arrives.</param>
/// <param name="Progress">Share of the way by share of the time.</param>
/// <param name="Shape">Its name in the truth.</param>
internal sealed record BentMove(int Index, double Start, double Length, double From, double To, Func<double, double> Progress, string Shape)
{
    /// <summary>10–90 % of a raised cosine takes 0.5903 of it: (acos(−0.8) − acos(0.8))/π.</summary>
    private static readonly double CosineShare = (Math.Acos(-0.8) - Math.Acos(0.8)) / Math.PI;

    public double End => Start + Length;

    public double Centre => Start + (Length / 2);

    public double At(double t) => From + ((To - From) * Progress(Math.Clamp((t - Start) / Length, 0, 1)));

    /// <summary>A change as it is to be played.</summary>
    /// <param name="plan">For instrument and settings.</param>
    /// <param name="change">Of the plan.</param>
    /// <param name="play">How.</param>
    /// <param name="from">Sounding pitch of the first note.</param>
    /// <param name="to">Of the second.</param>
    /// <param name="written">When the second note is to begin.</param>
    public static BentMove Of(Plan plan, NoteChange change, ChangePlay play, double from, double to, double written)
    {
        var (length, progress, shape) = Way(plan, change, play);
        return new BentMove(change.Index, written + play.Lead - (length / 2), length, from, to, progress, shape);
    }

    private static (double Length, Func<double, double> Progress, string Shape) Way(Plan plan, NoteChange change, ChangePlay play)
    {
        if (play.Glide is not { } glide) return (play.Jump, Cosine, "jump");
        var (a, b) = (plan.Notes[change.FromNote].Setting!, plan.Notes[change.ToNote].Setting!);
        if (!play.ByArm || a.Side.Id != b.Side.Id || a.Partial != b.Partial || a.Travel == b.Travel) return (glide / CosineShare, Cosine, "cosine");
        var arm = Arm(plan.Instrument, a, b);
        return (glide / (MinimumJerk.TimeAt(0.9) - MinimumJerk.TimeAt(0.1)), arm, "arm");
    }

    private static double Cosine(double x) => (1 - Math.Cos(Math.PI * x)) / 2;

    private static Func<double, double> Arm(Instrument instrument, SlideSetting a, SlideSetting b)
    {
        var (from, to) = (Sounding(0), Sounding(1));
        return x => (Sounding(MinimumJerk.Progress(x)) - from) / (to - from);

        double Sounding(double share) =>
            Math.Log2(instrument.Sounding(a.Side, a.Partial, new(a.Travel.Value + (share * (b.Travel.Value - a.Travel.Value)))).Value);
    }
}
