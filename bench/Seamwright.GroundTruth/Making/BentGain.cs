using Seamwright.Core.Sound;

namespace Seamwright.GroundTruth.Making;

/// <summary>What the air and the tongue do to one phrase: a gain in dB by time, exact on every sample.</summary>
internal sealed class BentGain
{
    private const double Blend = 0.03, StopDepth = 50, StopFlank = 0.012, Release = 0.05, SilenceDepth = 80, BumpLength = 0.06;
    private readonly List<(double At, double Step)> steps = [];
    private readonly List<LevelShape> shapes = [];
    private readonly List<(double Start, double Height)> bumps = [];
    private readonly double first;

    /// <summary>A phrase that begins at a level and ends at a time.</summary>
    public BentGain(double firstDb, double end)
    {
        first = firstDb;
        shapes.Add(LevelShape.Silence(end, 1e6, SilenceDepth, Release, Release));
    }

    /// <summary>Adds one change.</summary>
    /// <param name="play">What is done.</param>
    /// <param name="centre">Middle of the pitch's way.</param>
    /// <param name="stepDb">How much louder the second note is.</param>
    public void Add(ChangePlay play, double centre, double stepDb)
    {
        steps.Add((centre, stepDb));
        var middle = centre + play.DipOffset;
        var shape = play.Gap > 0
            ? LevelShape.Silence(middle - (play.Gap / 2), middle + (play.Gap / 2), StopDepth, StopFlank, StopFlank)
            : LevelShape.Dip(middle, play.DipWidth, play.Dip);
        if (play.Gap > 0 || play.Dip > 0) shapes.Add(shape);
        if (play.Bump > 0) bumps.Add(((shape.HoldEnd + shape.RiseEnd) / 2, play.Bump));
    }

    /// <summary>dB.</summary>
    public double At(double t)
    {
        var sum = first;
        foreach (var (at, step) in steps)
        {
            var x = Math.Clamp(((t - at) / Blend) + 0.5, 0, 1);
            sum += step * x * x * (3 - (2 * x));
        }

        foreach (var shape in shapes) sum += shape.At(t);
        foreach (var (start, height) in bumps)
        {
            var x = (t - start) / BumpLength;
            if (x is > 0 and < 1) sum += height * Math.Pow(Math.Sin(Math.PI * x), 2);
        }

        return Math.Max(sum, -SilenceDepth);
    }
}
