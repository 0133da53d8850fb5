namespace Seamwright.Core.Listening;

/// <summary>Finds the pitch's way through one change moment by moment, where the fitted movement leaves something open.</summary>
/// <remarks>Several first guesses, since a way that begins on the wrong side of a jump does not find back: the fitted movement, the
/// readings in windows, and where neither repeats well a plain step at the best of many moments. What came out is tried once
/// more with its steepest place made a step.</remarks>
internal sealed class WayMeter(double noise)
{
    // How far the way is followed beyond the middle of the change: at least this, so many periods, and so many times the glide.
    private const double Reach = 0.1;
    private const double ReachPeriods = 2;
    private const double ReachGlides = 0.8;

    // Knots to a period, no closer than an eighth of a break between partials (8 ms), no wider than a quarter of one.
    private const double KnotShare = 0.25;
    private const double ClosestKnots = 0.001;
    private const double WidestKnots = 0.002;

    // A break between partials takes 1 to 33 ms, in the middle 8 (measured on one player).
    private const double Break = 0.008;
    private const double FurthestStep = 0.06;
    private const double StepEvery = 0.006;

    // Octaves within a break from which a way is tried with a step.
    private const double Steep = 60 / 1200.0;

    // Misfits: of a way that needs no better one, of one that is followed without a step in it, of one that is tried from other guesses too, and of
    // a sound that follows none (the last of the mean).
    private const double Sure = 0.03;
    private const double Stepless = 0.1;
    private const double Doubtful = 0.3;
    private const double NoWay = 0.3;

    private const float Periodic = 0.6f;
    private const double Inside = 0.02;

    private readonly WarpFit warp = new();

    /// <summary>The way; null where the sound follows none.</summary>
    /// <param name="part">The sound about the change.</param>
    /// <param name="curve">Readings in windows.</param>
    /// <param name="glide">The fitted movement; null where none was.</param>
    /// <param name="a">The note before.</param>
    /// <param name="b">The note after.</param>
    /// <param name="centre">About where it is half way, seconds.</param>
    /// <param name="span">No further than this, seconds.</param>
    public PitchWay? Measure(Excerpt part, ChangeCurve curve, FittedGlide? glide, SteadyNote a, SteadyNote b, double centre, (double From, double To) span)
    {
        var period = 1 / Math.Min(a.Hz, b.Hz);
        if (GridOf(glide, period, centre, span) is not { } grid) return null;
        part.LoadInto(warp, period, noise);
        var plain = glide is null ? null : warp.Read(grid.Along(t => Math.Log2(glide.At(t))));
        var read = warp.Read(Readings(grid, curve, a, b));
        var (nearer, other) = plain is not null && plain.Cost < read.Cost ? (plain, read) : (read, plain);
        if (nearer.Misfit.Max() < Sure) return nearer.Way;
        var best = warp.Solve(nearer.Way);
        if (best.Misfit.Max() > Doubtful)
        {
            if (other is not null) best = Better(best, warp.Solve(other.Way));
            best = Better(best, warp.Solve(Steps(grid, a, b, centre).MinBy(warp.Misfit)!));
        }

        if (best.Misfit.Max() > Stepless && Sharpened(best.Way) is { } sharp) best = Better(best, warp.Solve(sharp));
        if (best.Misfit.Average() > NoWay) return null;

        // Where nothing repeats for a moment the movement knows better how it goes on than the sound does.
        return plain is null ? best.Way : grid.With([.. plain.Misfit.Select((m, k) => best.Misfit[k] < m ? best.Way.Octaves[k] : plain.Way.Octaves[k])]);
    }

    private static WarpFit.Result Better(WarpFit.Result one, WarpFit.Result other) => other.Cost < one.Cost ? other : one;

    private static PitchWay? GridOf(FittedGlide? glide, double period, double centre, (double From, double To) span)
    {
        const int Fewest = 12;
        const double Rounding = 0.0005;
        var (ten, _, ninety) = glide?.Shape.Passage() ?? (centre, centre, centre);
        var reach = Reach + (ReachPeriods * period) + (ReachGlides * (ninety - ten));
        var (from, to) = (Math.Max(span.From, centre - reach), Math.Min(span.To, centre + reach));
        var step = Rounding * Math.Round(Math.Clamp(KnotShare * period, ClosestKnots, WidestKnots) / Rounding);

        // One grid for the whole recording: whatever is first thought of a change, the same moments are asked.
        var first = Math.Ceiling(from / step);
        var count = (int)(Math.Floor(to / step) - first) + 1;
        return count < Fewest ? null : new PitchWay(first * step, step, new double[count]);
    }

    // The readings where they are periodic, the last of them where they are not, and the notes where only they sound.
    private static PitchWay Readings(PitchWay grid, ChangeCurve curve, SteadyNote a, SteadyNote b)
    {
        var last = Math.Log2(a.Hz);
        return grid.Along(t =>
        {
            var i = curve.Index(t);
            if (t < a.To - Inside) last = Math.Log2(a.Hz);
            else if (t > b.From + Inside) last = Math.Log2(b.Hz);
            else if (curve.Hz[i] > 0 && curve.Strength[i] > Periodic) last = Math.Log2(curve.Hz[i]);
            return last;
        });
    }

    private static IEnumerable<PitchWay> Steps(PitchWay grid, SteadyNote a, SteadyNote b, double centre)
    {
        for (var at = centre - FurthestStep; at <= centre + FurthestStep; at += StepEvery)
        {
            var middle = at;
            yield return grid.Along(t =>
            {
                var x = Math.Clamp(((t - middle) / Break) + 0.5, 0, 1);
                return Math.Log2(a.Hz) + (x * x * (3 - (2 * x)) * Math.Log2(b.Hz / a.Hz));
            });
        }
    }

    private static PitchWay? Sharpened(PitchWay way)
    {
        var u = way.Octaves;
        var reach = Math.Max(1, (int)Math.Round(0.75 * Break / way.Step));
        if (u.Length <= 2 * reach) return null;
        var at = Enumerable.Range(reach, u.Length - (2 * reach)).MaxBy(k => Math.Abs(u[k + reach] - u[k - reach]));
        var (before, after) = (u[at - reach], u[at + reach]);
        if (Math.Abs(after - before) < Steep) return null;
        var sharp = (double[])u.Clone();
        for (var k = at - reach; k <= at + reach; k++) sharp[k] = k < at ? before : k > at ? after : (before + after) / 2;
        return way.With(sharp);
    }
}
