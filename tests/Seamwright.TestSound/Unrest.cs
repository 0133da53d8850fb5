using Seamwright.Core.Sound;

namespace Seamwright.TestSound;

/// <summary>While lips find another partial nothing is periodic.</summary>
internal static class Unrest
{
    private const double Most = 0.7;

    /// <summary>Share of the power that is noise and not tone, 0 to 0.7.</summary>
    /// <param name="paths">What is asked.</param>
    /// <param name="t">Seconds.</param>
    public static double At(Paths paths, double t)
    {
        if (paths.Passages.IsEmpty) return 0;
        var i = paths.NearestTo(t);
        var passage = paths.Passages[i];
        if (paths.IsParted(i) || passage.OnOnePartial) return 0;
        var width = Math.Max(passage.Execution.Break.Value, Math.Pow(2, -Math.Min(passage.FromPitch, passage.ToPitch)));
        return Most * Math.Max(Bell((t - passage.BreakTime) / width), passage.Crack is null ? 0 : Bell((t - passage.BreakEnd) / width));
    }

    private static double Bell(double x) => Math.Abs(x) >= 1 ? 0 : (1 + Math.Cos(Math.PI * x)) / 2;
}
