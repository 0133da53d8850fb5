using Seamwright.Core.Sound;
using Seamwright.Core.Units;

namespace Seamwright.TestSound;

/// <summary>Reads the exact figures off the paths.</summary>
internal static class PathsTruth
{
    // Seconds: a thousand times finer than the ear.
    private const double Grid = 2e-5;

    // Less than this is no dip or bump, dB.
    private const double LeastDb = 0.5;

    private const double BumpWindow = 0.08;

    /// <summary>Everything that is true of the i-th passage.</summary>
    public static ChangeTruth Of(Paths paths, int i)
    {
        var p = paths.Passages[i];
        var truth = new ChangeTruth { Index = p.FromNote };
        if (paths.IsParted(i)) return truth with { Gap = new(p.Execution.Rest.Value) };
        if (PassageGlide.Of(p) is { } glide)
        {
            truth = truth with
            {
                Glide = new(glide.Ninety - glide.Ten),
                GlideCentre = new(glide.Centre),
                GlideSemitones = p.OnOnePartial ? 12 * (p.ToPitch - p.FromPitch) : null,
            };
        }

        if (p.Crack is not null) truth = truth with { Caught = new(Math.Pow(2, p.At(p.CrackMiddle))) };
        return Levels(paths, i, truth);
    }

    private static ChangeTruth Levels(Paths paths, int i, ChangeTruth truth)
    {
        var (from, to) = paths.Level.About(i);
        var quieter = Math.Min(from, to);
        var shape = paths.Shape(i);
        var (lowest, at) = Lowest(paths, shape.FallStart, shape.RiseEnd);
        var depth = quieter - lowest;
        var over = Highest(paths, paths.NoteEdges(i + 1).Onset) - to;
        if (over >= LeastDb) truth = truth with { Overshoot = new(over) };
        if (depth < LeastDb) return truth;
        var (start, end) = Span(paths, at, quieter - (depth / 2));
        return truth with
        {
            Dip = new(depth),
            DipWidth = new(end - start),
            DipCentre = new((start + end) / 2),
            Below10 = Below(10),
            Gap = Below(LevelShape.EdgeDb),
        };

        Seconds? Below(double db)
        {
            if (depth <= db) return null;
            var (first, last) = Span(paths, at, quieter - db);
            return new(last - first);
        }
    }

    private static (double Db, double At) Lowest(Paths paths, double from, double to)
    {
        var (lowest, at) = (double.MaxValue, from);
        for (var t = from; t <= to; t += Grid)
        {
            var level = paths.Level.At(t);
            if (level < lowest) (lowest, at) = (level, t);
        }

        return (lowest, at);
    }

    private static double Highest(Paths paths, double onset)
    {
        var highest = double.MinValue;
        for (var t = onset; t <= onset + BumpWindow; t += Grid) highest = Math.Max(highest, paths.Level.At(t));
        return highest;
    }

    private static (double Start, double End) Span(Paths paths, double at, double level)
    {
        double start = at, end = at;
        while (start > 0 && paths.Level.At(start) < level) start -= Grid;
        while (end < paths.Duration && paths.Level.At(end) < level) end += Grid;
        return (start, end);
    }
}
