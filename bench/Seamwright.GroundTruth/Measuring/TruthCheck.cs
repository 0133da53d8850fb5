using System.Globalization;
using Seamwright.GroundTruth.Making;
using Seamwright.GroundTruth.Truth;

namespace Seamwright.GroundTruth.Measuring;

/// <summary>Reads pitch and level of clean takes off their samples, told roughly where to look, and compares with the stated truth.</summary>
/// <remarks>A check of the bench itself: phases of harmonics and mean squares only, nothing of the listener.</remarks>
internal static class TruthCheck
{
    private const double Margin = 0.05, Shortest = 0.12, MostCents = 0.5, MostDb = 0.33;

    /// <returns>Whether every take's medians lie within half a cent and a third of a dB.</returns>
    public static bool Print(string folder, TextWriter output)
    {
        var good = true;
        output.WriteLine($"{"take",-34}{"frames",7}{"cents: median",14}{"95 %",7}{"most",7}{"dB: median",11}");
        foreach (var truth in Measurement.Truths(folder).Where(t => t.Condition == "clean"))
        {
            var (cents, levels) = Errors(folder, truth);
            output.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"{truth.Name,-34}{cents.Count,7}{Part(cents, 0.5),14:F2}{Part(cents, 0.95),7:F2}{Part(cents, 1),7:F2}{Part(levels, 0.5),11:F2}"));
            good &= Part(cents, 0.5) < MostCents && Part(levels, 0.5) < MostDb;
        }

        return good;
    }

    private static (List<double> Cents, List<double> Levels) Errors(string folder, TruthFile truth)
    {
        var recording = TakeWriter.ReadWav(Path.Combine(folder, truth.Name + ".wav"));
        var frames = Curves.ReadCsv(Path.Combine(folder, truth.Name + ".csv"));
        var (cents, levels) = (new List<double>(), new List<double>());
        foreach (var note in truth.Notes)
        {
            var from = truth.Changes.Where(c => c.Index == note.Index - 1).Select(c => c.MoveEnd).Append(note.Onset).Max() + Margin;
            var to = truth.Changes.Where(c => c.Index == note.Index).Select(c => c.MoveStart).Append(note.Offset).Min() - Margin;
            if (to - from < Shortest) continue;
            var first = (int)(from * recording.Rate.Value);
            var stretch = recording.Samples.Span[first..(int)(to * recording.Rate.Value)];
            var track = Demodulator.Track(stretch, recording.Rate.Value, note.Hertz);
            for (var i = 6; i < track.Length - 6; i++)
            {
                // The i-th figure is the mean pitch over its hop.
                var t = (first / (double)recording.Rate.Value) + ((i + 0.5) * Demodulator.Hop);
                if (track[i] > 0 && Between(frames, t) is { } hz) cents.Add(Math.Abs(1200 * Math.Log2(track[i] / hz)));
            }

            levels.Add(Math.Abs(Rms(stretch) - LevelOf(frames, from, to)));
        }

        return (cents, levels);
    }

    private static double? Between((double? Hertz, double LevelDb)[] frames, double t)
    {
        var i = (int)(t / 0.005);
        if (i + 1 >= frames.Length || frames[i].Hertz is not { } a || frames[i + 1].Hertz is not { } b) return null;
        return a + ((b - a) * ((t / 0.005) - i));
    }

    private static double Rms(ReadOnlySpan<float> samples)
    {
        var sum = 0.0;
        foreach (var s in samples) sum += (double)s * s;
        return 10 * Math.Log10(sum / samples.Length);
    }

    private static double LevelOf((double? Hertz, double LevelDb)[] frames, double from, double to)
    {
        var inside = frames.Skip((int)(from / 0.005)).Take(Math.Max(1, (int)((to - from) / 0.005))).Select(f => Math.Pow(10, f.LevelDb / 10));
        return 10 * Math.Log10(inside.Average());
    }

    private static double Part(List<double> values, double share)
    {
        if (values.Count == 0) return double.NaN;
        var sorted = values.Order().ToList();
        return sorted[Math.Min(sorted.Count - 1, (int)(share * sorted.Count))];
    }
}
