using System.Collections.Immutable;
using MathNet.Numerics.LinearAlgebra;
using Seamwright.Core.Units;

namespace Seamwright.Core.Listening;

/// <summary>The pitch that a vibrato swings about.</summary>
/// <remarks>A vibrato is heard at its mean (Shonle and Horan, J. Acoust. Soc. Am. 67 (1980), from memory), and a swing spends most of its time at its
/// turns, where no median is to be trusted. So mean, sine and cosine of the known rate are fitted together. A player with a vibrato on the long
/// notes has one on those that are too short to show it: their swing's size is known beforehand (a prior of its power on sine and cosine), its phase is not, and what
/// the part of a swing that a note holds leaves open is in the interval.</remarks>
internal static class VibratoCentre
{
    // Of the notes long enough for two of the slowest swings so many must show one before it is expected in the others.
    private const int Fewest = 3;
    private const double LeastShare = 0.4, Long = 0.5;

    // Readings every 5 ms, of which the windows of so many make one.
    private const double Worth = 10;
    private const double Floor = 0.8;

    /// <summary>The notes with their pitch at the middle of the vibrato, theirs or the pass's.</summary>
    /// <param name="notes">As measured.</param>
    /// <param name="steady">Their steady parts, in the same order; null where none was measured.</param>
    /// <param name="track">The recording's pitch.</param>
    public static ImmutableArray<HeardNote> Added(ImmutableArray<HeardNote> notes, IReadOnlyList<SteadyNote?> steady, RoughTrack track)
    {
        var shared = SharedBy(notes, steady);
        return [.. notes.Select((n, i) => (n.Vibrato ?? shared) is { } vibrato && steady[i] is { } s && n.Cents is { } cents ? Centred(n, cents, s, track, vibrato) : n)];
    }

    private static Vibrato? SharedBy(ImmutableArray<HeardNote> notes, IReadOnlyList<SteadyNote?> steady)
    {
        var swinging = notes.Where(n => n.Vibrato is not null).Select(n => n.Vibrato!.Value).ToList();
        var could = Enumerable.Range(0, notes.Length).Count(i => notes[i].Vibrato is not null || (steady[i] is { } s && s.To - s.From >= Long));
        return swinging.Count < Math.Max(Fewest, LeastShare * could) ? null : new(new(OrderStatistic.Median(swinging.Select(v => v.Rate.Value))), new(OrderStatistic.Median(swinging.Select(v => v.Extent.Value))));
    }

    private static HeardNote Centred(HeardNote note, Cents median, SteadyNote steady, RoughTrack track, Vibrato vibrato)
    {
        const int FewestFrames = 8;
        var (times, cents) = ToneReader.CourseOf(steady, track);
        if (times.Length < FewestFrames) return note;
        var (centre, deviation) = Fitted(times, cents, vibrato);
        var reach = Bounding.Reach(deviation, Floor, 0);
        var middle = median.Value + centre;
        return note with
        {
            Cents = new(middle),
            CentsBounds = new(new(middle - reach), new(middle + reach)),
            DriftBounds = note.Vibrato is null && note.Drift is { } drift ? Wider(note.DriftBounds ?? new(drift, drift), drift, 2 * vibrato.Extent.Value) : note.DriftBounds,
        };
    }

    // Mean, sine and cosine by least squares, the last two held near nothing by the swing's own size.
    private static (double Mean, double Deviation) Fitted(double[] times, double[] cents, Vibrato vibrato)
    {
        const double LeastNoise = 2;
        var design = Matrix<double>.Build.Dense(times.Length, 3, (i, k) => k == 0 ? 1 : Wave(k, 2 * Math.PI * vibrato.Rate.Value * (times[i] - times[0])));
        var seen = Vector<double>.Build.Dense(cents);
        var (sum, right, power) = (design.TransposeThisAndMultiply(design), design.TransposeThisAndMultiply(seen), vibrato.Extent.Value * vibrato.Extent.Value / 2);
        var noise = LeastNoise * LeastNoise;
        var found = (Mean: 0.0, Deviation: 0.0);

        // Twice: what the fit leaves says how much weight the swing's size has beside it.
        for (var round = 0; round < 2; round++)
        {
            var held = Matrix<double>.Build.DenseOfDiagonalArray([0, noise / power, noise / power]) * Worth;
            var inverse = (sum + held).Inverse();
            var fitted = inverse * right;
            noise = Math.Max(LeastNoise * LeastNoise, (seen - (design * fitted)).PointwisePower(2).Average());
            found = (fitted[0], Math.Sqrt(Math.Max(0, inverse[0, 0] * noise * Worth)));
        }

        return found;
    }

    private static double Wave(int k, double phase) => k == 1 ? Math.Sin(phase) : Math.Cos(phase);

    private static Bounds<Cents> Wider(Bounds<Cents> bounds, Cents value, double left) => new(
        new(value.Value - Math.Sqrt(Math.Pow((value - bounds.Low).Value, 2) + (left * left))),
        new(value.Value + Math.Sqrt(Math.Pow((bounds.High - value).Value, 2) + (left * left))));
}
