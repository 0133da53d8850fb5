using System.Buffers;

namespace Seamwright.Core.Sound;

/// <summary>A curve as hearing takes it: what sounds within a window, 13 ms long (Plack and Moore 1990) and never under two periods, since
/// nothing shorter has a pitch.</summary>
internal static class HeardCurve
{
    // Seconds: the grid, the window, and how far from the moment that is asked about is looked.
    private const double Grid = 2e-4, EarWindow = 0.013, Reach = 0.06;

    /// <summary>Of hearing, at the lower of both notes, seconds.</summary>
    public static double WindowOf(Passage passage) => Math.Max(EarWindow, 2 * Math.Pow(2, -Math.Min(passage.FromPitch, passage.ToPitch)));

    /// <summary>When, nearest to a moment, what lies beyond half way comes to sound as strong as what does not, seconds; that moment itself where it
    /// never does.</summary>
    /// <param name="curve">What sounded.</param>
    /// <param name="passage">Whose way it is.</param>
    /// <param name="near">Seconds: about when the pitch is half way.</param>
    public static double Crossing(ToneCurve curve, Passage passage, double near)
    {
        var half = WindowOf(passage) / 2;
        var start = near - Reach - half;
        var count = (int)(2 * (Reach + half) / Grid) + 2;
        var rented = ArrayPool<double>.Shared.Rent(count);
        var beyonds = rented.AsSpan(0, count);
        Sum(curve, passage, start, beyonds);
        var (found, before) = (double.NaN, double.NaN);
        for (var t = near - Reach; t <= near + Reach; t += Grid)
        {
            var now = At(beyonds, t + half - start) - At(beyonds, t - half - start);
            if (before < 0 && now >= 0 && !(Math.Abs(t - near) >= Math.Abs(found - near))) found = t - (Grid * now / (now - before));
            before = now;
        }

        ArrayPool<double>.Shared.Return(rented);
        return double.IsNaN(found) ? near : found;
    }

    // Running sum of the power beyond half way less the power before it.
    private static void Sum(ToneCurve curve, Passage passage, double start, Span<double> beyonds)
    {
        beyonds[0] = 0;
        for (var i = 1; i < beyonds.Length; i++)
        {
            var (all, beyond) = curve.PowerAt(start + ((i - 0.5) * Grid), passage.FromPitch, (passage.FromPitch + passage.ToPitch) / 2);
            beyonds[i] = beyonds[i - 1] + (2 * beyond) - all;
        }
    }

    private static double At(ReadOnlySpan<double> beyonds, double after)
    {
        var x = Math.Clamp(after / Grid, 0, beyonds.Length - 1.001);
        var i = (int)x;
        return beyonds[i] + ((x - i) * (beyonds[i + 1] - beyonds[i]));
    }
}
