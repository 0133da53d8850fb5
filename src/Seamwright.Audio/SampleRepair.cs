using Seamwright.Core;

namespace Seamwright.Audio;

/// <summary>Takes out what is no sample, and says what recording faults the rest shows.</summary>
internal static class SampleRepair
{
    // This many neighbours at full scale are a cut-off peak and not a chance hit.
    private const int ClippedRun = 3;

    // −70 dB against full scale, below any room's noise: nothing was recorded.
    private const float Silent = 3.2e-4f;

    // −50 dB: a trombone in the same room comes out far above it.
    private const float Faint = 3.2e-3f;

    /// <summary>Replaces what is not a number by 0 and tells of that, of cut-off peaks and of silence.</summary>
    public static void Apply(float[][] channels, WavLayout layout, string name, List<Problem> problems)
    {
        var broken = channels.Sum(Clean);
        if (broken > 0) problems.Add(new Problem(name, $"has {broken} samples that are not numbers.", "They are taken as silence; the program that wrote the file is at fault."));
        var peak = channels.Max(c => c.Length == 0 ? 0 : c.Max(Math.Abs));
        if (peak < Silent) problems.Add(new Problem(name, peak == 0 ? "is silent." : $"is silent but for noise at {Db(peak):0} dB against full scale.", "Check the microphone and its level, and record again."));
        else if (peak < Faint) problems.Add(new Problem(name, $"is very faint: its peak lies at {Db(peak):0} dB against full scale.", "Raise the recording level."));
        var (runs, first) = Clipped(channels, layout);
        if (runs > 0) problems.Add(new Problem(name, $"is overloaded in {runs} {(runs == 1 ? "place" : "places")}, the first at {first / (double)layout.Rate:0.00} s.", "Levels and bumps there read too small; lower the recording level."));
    }

    private static int Clean(float[] samples)
    {
        var broken = 0;
        for (var i = 0; i < samples.Length; i++)
        {
            // Beyond this nothing was ever recorded, and squares overflow.
            if (float.IsFinite(samples[i]) && Math.Abs(samples[i]) < 1e6f) continue;
            samples[i] = 0;
            broken++;
        }

        return broken;
    }

    private static (int Runs, int First) Clipped(float[][] channels, WavLayout layout)
    {
        var limit = layout.Bits == 8 ? 0.99f : 0.9999f;
        int runs = 0, first = int.MaxValue;
        foreach (var samples in channels)
        {
            var (found, place) = ClippedRuns(samples, limit);
            runs = Math.Max(runs, found);
            first = Math.Min(first, place);
        }

        return (runs, first);
    }

    private static (int Runs, int First) ClippedRuns(float[] samples, float limit)
    {
        int runs = 0, first = int.MaxValue, length = 0;
        for (var i = 0; i < samples.Length; i++)
        {
            // A cut-off peak is flat: neighbours beyond full scale that differ were not cut (float files may hold them).
            var flat = Math.Abs(samples[i]) >= limit && (length == 0 || Math.Abs(samples[i] - samples[i - 1]) < 0.01f);
            length = flat ? length + 1 : 0;
            if (length != ClippedRun) continue;
            runs++;
            first = Math.Min(first, i - ClippedRun + 1);
        }

        return (runs, first);
    }

    private static double Db(float amplitude) => 20 * Math.Log10(amplitude);
}
