namespace Seamwright.Core.Listening;

/// <summary>The dip behind a measured level curve: raised-cosine flanks in dB about a flat bottom, seen through the level's own window.</summary>
/// <remarks>A window that is longer than a dip shows it too shallow and too wide; so the model is smeared by the same window before it
/// is compared, and the parameters are read from the model, not from the curve.</remarks>
internal sealed class DipFit
{
    // Every second millisecond says all there is in windows of 13 ms and more.
    private const int Stride = 2;
    private const double ModelStep = 0.001;
    private const double LeastReach = 0.12;

    // Where the reading itself has fallen so far, the window lies inside the silence and has seen its bottom.
    private const double Inside = 30;

    // dB from which the air may have stopped.
    private const double Silent = 20;

    // Two dips are believed where they leave no more than so much of the misfit of one, and the shallower is so deep, dB.
    private const double TwoFit = 0.65;
    private const double LeastBeside = 4;

    // Natural slurs dip for about 45 ms (measured on one player).
    private const double UsualFlank = 0.045;

    // dB by which what the fit makes of the lowest reading may lie above the other dip.
    private const double Parts = 1;

    // Seconds: what lasts longer is a rest.
    private const double Rest = 0.3;

    // Parameters of one dip.
    private const int One = 5;

    // Mean square in dB² below which no better minimum is looked for.
    private const double Fits = 0.05;

    // So far the room's filling is undone; what lies deeper it has hidden.
    private const double MostUndone = 10;

    // Flanks that differ, flat bottoms, and depths no window can see are taken only where the readings ask for them.
    private const int Wishes = 3;

    private readonly double[] times;
    private readonly double[] measured;
    private readonly double[] windows;
    private readonly double before;
    private readonly double after;
    private readonly double turn;
    private readonly double rawWidth;
    private readonly double seen;
    private readonly bool mayBreak;
    private readonly bool filled;
    private readonly DipModel model;
    private readonly double[] shown;
    private bool pointed;

    /// <summary>Prepares a fit: only what lies near the deepest moment is kept.</summary>
    /// <param name="times">Seconds, evenly spaced.</param>
    /// <param name="measured">dB at those times.</param>
    /// <param name="windows">The rectangular window each level was measured in, seconds.</param>
    /// <param name="before">Level of the first note, dB.</param>
    /// <param name="after">Level of the second note, dB.</param>
    /// <param name="turn">When one level gives way to the other.</param>
    /// <param name="floor">Level of the room, dB.</param>
    /// <param name="room">How the room answers; it fills dips.</param>
    /// <param name="mayBreak">Whether a partial may break here, so that two dips may lie beside one another.</param>
    public DipFit(double[] times, double[] measured, double[] windows, double before, double after, double turn, double floor, Decay? room, bool mayBreak = false)
    {
        this.mayBreak = mayBreak;
        filled = room is { Matters: true, Share: > 0 };
        this.before = before;
        this.after = after;
        this.turn = turn;
        var lowest = Lowest(measured);
        var quieter = Math.Min(before, after);
        seen = quieter - measured[lowest];
        rawWidth = Width(measured, lowest, (quieter + measured[lowest]) / 2) * (times.Length > 1 ? times[1] - times[0] : ModelStep);
        var reach = Math.Max(LeastReach, (1.5 * rawWidth) + windows[lowest]);
        var kept = Enumerable.Range(0, times.Length).Where(i => i % Stride == lowest % Stride && Math.Abs(times[i] - times[lowest]) <= reach).ToArray();
        this.times = [.. kept.Select(i => times[i])];
        this.measured = [.. kept.Select(i => measured[i])];
        this.windows = [.. kept.Select(i => windows[i])];
        model = new DipModel(this.times, this.windows, before, after, turn, Math.Pow(10, floor / 10), room);
        shown = new double[this.times.Length + DipModel.Padding];
    }

    /// <summary>What was found: the model's own curve is read, in dB below the quieter neighbour; the deviations are standard ones, and the pull
    /// is how far, seconds, the middle may lie too near to a partial's break.</summary>
    internal readonly record struct Result(
        double Depth, double Centre, double HalfWidth, double Below20, Dips Shape, double Pull, double DepthDeviation, double CentreDeviation, double WidthDeviation);

    /// <summary>The best of several starts; null where there is no dip.</summary>
    public Result? Solve()
    {
        var quieter = Math.Min(before, after);
        var lowest = Lowest(measured);
        var depth = quieter - measured[lowest];
        if (depth < 0.3) return null;
        var width = Math.Max(0.006, rawWidth - (windows[lowest] / 3));
        var middle = depth > Inside ? Middle(lowest, (quieter + measured[lowest]) / 2) : lowest;
        LeastSquares.Solution? best = null;

        // In a rest the level falls and comes back as quickly as over a breath, and lies low between.
        (double, double, double)[] starts = rawWidth > Rest ? [(0.06, width - 0.06, Deeper(depth, 1)), (0.15, width - 0.15, Deeper(depth, 1))]
            : [(width, 0.002, Deeper(depth, 1.15)), (width * 0.6, width * 0.6, Deeper(depth, 1.6))];
        foreach (var (w, hold, d) in starts)
        {
            var found = LeastSquares.Solve(Residuals, [times[middle] * 10, Math.Log(w), 0, Math.Sqrt(hold) * 3, d / 10], times.Length + Wishes);
            if (best is null || found.MeanSquare < best.MeanSquare) best = found;
            if (best.MeanSquare < Fits) break;
        }

        if (mayBreak && best!.MeanSquare > Fits && Two(lowest, depth) is { } two && two.MeanSquare < TwoFit * best.MeanSquare) best = two;
        if (best!.MeanSquare > Fits && depth > Silent)
        {
            pointed = true;
            var found = LeastSquares.Solve(Residuals, best.Parameters, times.Length + Wishes);
            pointed = found.Parameters.Length == One && found.MeanSquare < best.MeanSquare;
            if (pointed) best = found;
        }

        return Read(best!, quieter);
    }

    // A partial's break leaves a dip of its own at the turn, whatever the tongue does beside it: the two are fitted together.
    private LeastSquares.Solution? Two(int lowest, double depth)
    {
        if (depth > Inside) return null;
        LeastSquares.Solution? best = null;
        foreach (var at in (double[])[turn, (2 * turn) - times[lowest]])
        {
            var found = LeastSquares.Solve(Residuals, [times[lowest] * 10, Math.Log(UsualFlank), 0, Math.Sqrt(0.002) * 3, depth / 10 * 1.1, at * 10, Math.Log(UsualFlank), 1], times.Length + Wishes);
            if (Credible(Dips(found.Parameters), times[lowest]) && !(best?.MeanSquare <= found.MeanSquare)) best = found;
        }

        return best;
    }

    // Of a dip at the edge of what was read only one flank is known, and the lowest reading lies in the deeper one.
    private bool Credible(in Dips dips, double lowest)
    {
        var (first, last) = (times[0] + (UsualFlank / 2), times[^1] - (UsualFlank / 2));
        return dips.Beside is { Depth: >= LeastBeside } beside && beside.Centre > first && beside.Centre < last && dips.Main.Centre > first && dips.Main.Centre < last
            && Model(lowest, dips) <= Model(beside.Centre, dips) + Parts;
    }

    // The bottom of a silence is flat: where in it the noise is lowest says nothing.
    private int Middle(int lowest, double level)
    {
        var (a, b) = (lowest, lowest);
        while (a > 0 && measured[a - 1] < level) a--;
        while (b < measured.Length - 1 && measured[b + 1] < level) b++;
        return (a + b) / 2;
    }

    private static double Deeper(double depth, double factor) => depth > Inside ? depth + 1 : depth * factor;

    // In dB; the wishes are scaled so that together they weigh as little as the plainest dip allows.
    private void Residuals(ReadOnlySpan<double> p, Span<double> residuals)
    {
        var dips = Dips(p);
        model.Read(dips, shown);
        for (var i = 0; i < times.Length; i++) residuals[i] = measured[i] - shown[i];
        var many = Math.Sqrt(times.Length);
        residuals[^3] = many * 0.1 * p[2];
        residuals[^2] = rawWidth > Rest ? 0 : many * Math.Sqrt(2 * dips.Main.Hold);
        var credible = seen > Inside ? seen : filled ? Math.Min(Inside, seen + MostUndone) : Inside;
        var beyond = Math.Max(0, dips.Main.Depth - credible);
        var deeper = dips.Beside is { } other ? Math.Max(0, other.Depth - dips.Main.Depth) : 0;
        residuals[^1] = many * Math.Sqrt(((seen > Inside || filled ? 0.05 : 0.001) * beyond) + (0.05 * deeper));
    }

    private Dips Dips(ReadOnlySpan<double> p)
    {
        var flank = Math.Exp(Math.Clamp(p[1], -6, -1));
        var lean = Math.Exp(Math.Clamp(p[2], -1.2, 1.2));
        var main = new DipShape(p[0] / 10, flank * lean, flank / lean, p[3] * p[3] / 9, Math.Min(Listening.Dips.Deepest, Math.Abs(p[4]) * 10)) { Pointed = pointed };
        if (p.Length == One) return new(main, null);
        var beside = Math.Exp(Math.Clamp(p[6], -4.4, -2));
        return new(main, new DipShape(p[5] / 10, beside, beside, 0, Math.Min(Listening.Dips.Deepest, Math.Abs(p[7]) * 10)));
    }

    private double Model(double t, in Dips dips) => (t < turn ? before : after) + dips.At(t);

    private Result Read(LeastSquares.Solution found, double quieter)
    {
        var (depth, centre, width, below20) = Figures(found.Parameters, quieter);
        var dips = Dips(found.Parameters);
        var step = times.Length > 1 ? (times[^1] - times[0]) / (times.Length - 1) : ModelStep;
        var known = found.Deviations(Read, found.MeanSquare, Math.Max(1, windows.Average() / step)) ?? [depth, 0.05, width];
        return new Result(depth, centre, width, below20, dips, Pull(centre, dips), known[0], known[1], known[2]);

        double[] Read(double[] p)
        {
            var f = Figures(p, quieter);
            return [f.Depth, f.Centre, f.Width];
        }
    }

    // A break's own dip that is not parted from the tongue's draws its middle towards the turn.
    private double Pull(double centre, in Dips dips)
    {
        const double Unparted = 0.25;
        const double Fitted = 0.1;
        var away = Math.Abs(centre - turn);
        return mayBreak && away < UsualFlank ? (dips.Beside is null ? Unparted : Fitted) * away : 0;
    }

    private DipFigures Figures(ReadOnlySpan<double> p, double quieter)
    {
        var dips = Dips(p);
        return DipFigures.Of(dips, t => quieter - Model(t, dips));
    }

    private static int Lowest(double[] measured)
    {
        var lowest = 0;
        for (var i = 1; i < measured.Length; i++)
        {
            if (measured[i] < measured[lowest]) lowest = i;
        }

        return lowest;
    }

    // Samples about the deepest one that stay below a level.
    private static int Width(double[] measured, int lowest, double level)
    {
        var (a, b) = (lowest, lowest);
        while (a > 0 && measured[a - 1] < level) a--;
        while (b < measured.Length - 1 && measured[b + 1] < level) b++;
        return b - a + 1;
    }
}
