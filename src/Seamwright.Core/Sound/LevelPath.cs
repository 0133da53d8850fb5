using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

/// <summary>The level that is asked for, as a function of time: notes, tongue, bursts, rests, and the stream of air behind it all.</summary>
/// <param name="paths">Where one note passes into the next.</param>
/// <param name="performance">Levels of the notes.</param>
internal sealed class LevelPath(Paths paths, Performance performance)
{
    // Below this the noise of any room is louder.
    public const double SilenceDepth = 80;

    // A note that ends has faded so far when its air is spent, dB.
    private const double Faded = 30;

    // A burst rises and falls within this time and its top lies inside the 80 ms a listener gives it; it begins where the dip is so far
    // back: what bursts is what the tongue held up.
    private const double BumpLength = 0.045, BumpStart = 0.75;

    // Two notes of different level blend over this time around the change.
    private const double LevelBlend = 0.03;

    /// <summary>The i-th sounding note's own level at a time, dB against an ordinary note.</summary>
    public double OfNote(int i, double t)
    {
        var note = paths.Sounding[i];
        var steady = performance.Levels.IsDefaultOrEmpty ? 0 : performance.Levels[note].Value;
        return performance.Swells.IsDefaultOrEmpty ? steady
            : steady + performance.Swells[note].At(new Seconds((t - paths.TimeOf(note)) * performance.TempoRatio)).Value;
    }

    /// <summary>Own levels of the notes before and after the i-th passage where they meet, dB.</summary>
    public (double From, double To) About(int i) => (OfNote(i, paths.Boundary(i)), OfNote(i + 1, paths.Boundary(i)));

    /// <summary>The level of the air alone, dB against an ordinary note: neither tongue nor silence.</summary>
    public double AirAt(double t)
    {
        if (paths.Passages.IsEmpty) return paths.Sounding.Length == 1 ? OfNote(0, t) : 0;
        return Base(paths.NearestTo(t), t);
    }

    /// <summary>dB against an ordinary note.</summary>
    public double At(double t) => At(t, withStops: true);

    /// <summary>As <see cref="At(double)"/>, but for what the air itself does where it stops between two notes: what is left is the tongue's.</summary>
    public double TonguedAt(double t) => At(t, withStops: false);

    /// <summary>Share of the stream of air that there is, 0 to 1. In a rest nobody blows; where the air stops between two notes it comes
    /// and goes by itself, and no tongue has a part in it.</summary>
    public double AirflowAt(double t)
    {
        if (paths.Sounding.IsEmpty || IsRest(paths.Opening, t) || IsRest(paths.Closing, t)) return 0;
        if (paths.Passages.IsEmpty) return 1;
        var nearest = paths.NearestTo(t);
        var flow = 1.0;
        for (var i = Math.Max(0, nearest - 1); i <= Math.Min(paths.Passages.Length - 1, nearest + 1); i++)
        {
            if (paths.IsParted(i)) flow = IsRest(paths.Shape(i), t) ? 0 : flow;
            else if (IsStop(i)) flow *= paths.Shape(i).ShareAt(t);
        }

        return flow;
    }

    private double At(double t, bool withStops)
    {
        if (paths.Sounding.IsEmpty) return -SilenceDepth;
        var ends = paths.Opening.At(t) + paths.Closing.At(t);
        if (paths.Passages.IsEmpty) return OfNote(0, t) + ends;
        var nearest = paths.NearestTo(t);
        var sum = Base(nearest, t) + ends;
        for (var i = Math.Max(0, nearest - 1); i <= Math.Min(paths.Passages.Length - 1, nearest + 1); i++)
            sum += (withStops || !IsStop(i) ? paths.Shape(i).At(t) : 0) + BumpAt(i, t);
        return Math.Max(sum, -SilenceDepth);
    }

    // The tongue lets the next note go at the end of a rest: until then there is no air.
    private static bool IsRest(LevelShape silence, double t) => t < silence.HoldEnd && silence.At(t) < -Faded;

    private bool IsStop(int i) => paths.Passages[i].Execution.Gap.Value > 0;

    private double Base(int i, double t)
    {
        var x = Math.Clamp(((t - paths.Boundary(i)) / LevelBlend) + 0.5, 0, 1);
        if (x is 0 or 1) return OfNote(x == 0 ? i : i + 1, t);
        double a = OfNote(i, t), b = OfNote(i + 1, t);
        return a + ((b - a) * x * x * (3 - (2 * x)));
    }

    private double BumpAt(int i, double t)
    {
        var height = paths.Passages[i].Execution.Bump.Value;
        if (height == 0) return 0;
        var shape = paths.Shape(i);
        var x = (t - (shape.HoldEnd + (BumpStart * (shape.RiseEnd - shape.HoldEnd)))) / BumpLength;
        return x is <= 0 or >= 1 ? 0 : height * Math.Pow(Math.Sin(Math.PI * x), 2);
    }
}
