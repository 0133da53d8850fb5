using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

/// <summary>Reads figures off a curve.</summary>
internal static class CurveTruth
{
    // Seconds: finer than the curve's own grid, which is joined by straight lines.
    private const double Grid = 1e-4;

    // Less than this is no interval, and no dip or bump.
    private const double LeastOctaves = 0.3 / 12, LeastDb = 0.5;

    // dB that only a tongue is asked for across partials: lips and valves dip less.
    private const double Touched = 12;

    private const double BumpWindow = 0.08;

    /// <summary>Everything that is true of a passage.</summary>
    /// <param name="curve">What sounded.</param>
    /// <param name="passage">What was asked.</param>
    /// <param name="window">Seconds: within the notes before and after.</param>
    /// <param name="fromDb">The first note's own level.</param>
    /// <param name="toDb">The second note's own level.</param>
    public static ChangeTruth Of(ToneCurve curve, Passage passage, (double From, double To) window, double fromDb, double toDb)
    {
        var truth = new ChangeTruth { Index = passage.FromNote };
        var quieter = Math.Min(fromDb, toDb);
        var (lowest, at) = Lowest(curve, window);
        if (passage.Execution.Rest.Value > 0) return truth with { Gap = Below(curve, window, at, quieter - LevelShape.EdgeDb) };
        if (passage.Crack is { } crack) truth = truth with { Caught = CaughtAt(curve, passage, crack) };
        else if (passage.Execution.Gap.Value == 0 && Glide(curve, passage, window) is { } glide)
        {
            truth = truth with
            {
                Glide = new(glide.Ninety - glide.Ten),
                GlideCentre = new(glide.Centre),
                GlideSemitones = passage.OnOnePartial ? 12 * (passage.ToPitch - passage.FromPitch) : null,
            };
        }

        var over = Highest(curve, truth.GlideCentre?.Value ?? at) - toDb;
        if (over >= LeastDb) truth = truth with { Overshoot = new(over) };
        var depth = quieter - (passage.OnOnePartial || passage.Execution.Gap.Value > 0 ? lowest : Undisturbed(curve, passage, at));
        if (depth < LeastDb) return truth;
        var (start, end) = Span(curve, window, at, quieter - (depth / 2));
        var (first, last) = Span(curve, window, at, Parting(curve, (start, end), at, quieter - (depth / 2)));

        // How deep a silence is the room decides.
        var silent = passage.Execution.Gap.Value > 0;
        return truth with
        {
            Dip = silent ? null : new(depth),
            DipWidth = silent ? null : new(end - start),
            DipCentre = silent ? null : new((first + last) / 2),
            Below10 = depth > 10 ? Below(curve, window, at, quieter - 10) : null,
            Gap = depth > LevelShape.EdgeDb ? Below(curve, window, at, quieter - LevelShape.EdgeDb) : null,
        };
    }

    /// <summary>Middle of the time in which the level lies more than 20 dB below the quieter note, or of its lowest moment where it never does.</summary>
    public static double GapCentre(ToneCurve curve, (double From, double To) window, double quieterDb)
    {
        var (start, end) = Span(curve, window, Lowest(curve, window).At, quieterDb - LevelShape.EdgeDb);
        return (start + end) / 2;
    }

    /// <summary>When the level first comes up to a threshold at or after a time, or last was there before it.</summary>
    public static double Crossing(ToneCurve curve, double near, double reach, double db, bool rising)
    {
        var (found, distance) = (near, double.MaxValue);
        for (var t = near - reach; t < near + reach; t += Grid)
        {
            var (a, b) = (curve.LevelAt(t), curve.LevelAt(t + Grid));
            if ((rising ? a < db && b >= db : a >= db && b < db) && Math.Abs(t - near) < distance) (found, distance) = (t, Math.Abs(t - near));
        }

        return found;
    }

    private static (double Ten, double Centre, double Ninety)? Glide(ToneCurve curve, Passage p, (double From, double To) window)
    {
        double a = p.FromPitch, b = p.ToPitch;
        if (Math.Abs(b - a) < LeastOctaves) return null;

        // The way proper: from where it last leaves the first tenth to where it first reaches the last one. Where resonances sound together the
        // pitch that is heard is the stronger one's: half way is where it jumps, wherever in the interval the mean of the two then lies. A pitch
        // takes two periods to be one, so the stronger one is the one that sounds stronger within the window of hearing.
        var ninety = window.From;
        while (ninety < window.To && Share(curve.PitchAt(ninety)) < 0.9) ninety += Grid;
        return (LastBelow(0.1, curve.PitchAt), p.OnOnePartial ? LastBelow(0.5, curve.PitchAt) : HeardCurve.Crossing(curve, p, LastBelow(0.5, curve.StrongestAt)), ninety);

        double Share(double pitch) => (pitch - a) / (b - a);

        double LastBelow(double share, Func<double, double> pitch)
        {
            var t = ninety;
            while (t > window.From && Share(pitch(t)) > share) t -= Grid;
            return t;
        }
    }

    // While one resonance gives way to another both sound, and beat: there is no level at an instant, only what the window of hearing leaves of
    // it. What the window itself fills in of a tongue's smooth dip goes by its square, so half a window tells how much that is (Richardson's
    // extrapolation); where none touches, what would be found so is the beat.
    private static double Undisturbed(ToneCurve curve, Passage passage, double at)
    {
        var half = HeardCurve.WindowOf(passage) / 2;
        var (least, middle) = (double.MaxValue, at);
        for (var t = at - half; t <= at + half; t += 5 * Grid)
        {
            var power = curve.MeanPower(t - half, t + half);
            if (power < least) (least, middle) = (power, t);
        }

        if (passage.Execution.Dip.Value < Touched) return 10 * Math.Log10(least);
        var deeper = ((4 * curve.MeanPower(middle - (half / 2), middle + (half / 2))) - least) / 3;
        return Math.Max(10 * Math.Log10(Math.Clamp(deeper, least / 2, least)), curve.LevelAt(at));
    }

    private static Hertz? CaughtAt(ToneCurve curve, Passage passage, Crack crack)
    {
        // The wrong partial's pitch where it holds longest: in the middle of its time.
        var t = (passage.BreakTime + passage.BreakEnd) / 2;
        return crack.Duration.Value > 0 ? new Hertz(Math.Pow(2, curve.PitchAt(t))) : null;
    }

    private static (double Db, double At) Lowest(ToneCurve curve, (double From, double To) window)
    {
        var (lowest, at) = (double.MaxValue, window.From);
        for (var t = window.From; t <= window.To; t += Grid)
        {
            var level = curve.LevelAt(t);
            if (level < lowest) (lowest, at) = (level, t);
        }

        return (lowest, at);
    }

    private static double Highest(ToneCurve curve, double onset)
    {
        var highest = double.MinValue;
        for (var t = onset; t <= onset + BumpWindow; t += Grid) highest = Math.Max(highest, curve.LevelAt(t));
        return highest;
    }

    // Where another dip runs into this one, the height between the two: from there it falls again on the way out.
    private static double Parting(ToneCurve curve, (double Start, double End) span, double at, double level)
    {
        const double Parts = 1;
        return Math.Min(Towards(span.Start, -Grid), Towards(span.End, Grid));

        double Towards(double end, double step)
        {
            var height = double.MinValue;
            for (var t = at; step < 0 ? t > end : t < end; t += step)
            {
                height = Math.Max(height, curve.LevelAt(t));
                if (curve.LevelAt(t) < height - Parts) return height;
            }

            return level;
        }
    }

    private static Seconds Below(ToneCurve curve, (double From, double To) window, double at, double db)
    {
        var (from, to) = Span(curve, window, at, db);
        return new(to - from);
    }

    private static (double Start, double End) Span(ToneCurve curve, (double From, double To) window, double at, double level)
    {
        double start = at, end = at;
        while (start > window.From && curve.LevelAt(start) < level) start -= Grid;
        while (end < window.To && curve.LevelAt(end) < level) end += Grid;
        return (start, end);
    }
}
