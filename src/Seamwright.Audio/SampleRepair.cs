using System.Numerics.Tensors;
using Seamwright.Audio.Decoding;

namespace Seamwright.Audio;

/// <summary>Takes out what is no sample, and says what recording faults the rest shows.</summary>
internal sealed class SampleRepair(SampleSource source, ProblemLog log)
{
    // This many neighbours at full scale are a cut-off peak and not a chance hit.
    private const int ClippedRun = 3;

    // −70 dB against full scale, below any room's noise: nothing was recorded.
    private const float Silent = 3.2e-4f;

    // −50 dB: a trombone in the same room comes out far above it.
    private const float Faint = 3.2e-3f;

    private readonly Clipping[] clipping = new Clipping[source.Channels];
    private long broken;
    private long frames;
    private float peak;

    /// <summary>Replaces what is not a number by 0, and looks on.</summary>
    /// <param name="interleaved">Whole frames, in file order.</param>
    public void Process(Span<float> interleaved)
    {
        var channels = source.Channels;
        if (IsPlain(interleaved))
        {
            for (var c = 0; c < channels; c++) clipping[c].Break();
            frames += interleaved.Length / channels;
            return;
        }

        Clean(interleaved);
        for (var c = 0; c < channels; c++)
        {
            var frame = frames;
            for (var i = c; i < interleaved.Length; i += channels) clipping[c].Next(interleaved[i], source.FullScale, frame++);
        }

        frames += interleaved.Length / channels;
    }

    /// <summary>Tells, at the end, of broken samples, of cut-off peaks and of silence.</summary>
    public void Tell()
    {
        if (broken > 0) log.Say($"has {broken} samples that are not numbers.", "They are taken as silence; the program that wrote the file is at fault.");
        if (peak < Silent) log.Say(peak == 0 ? "is silent." : $"is silent but for noise at {Db(peak):0} dB against full scale.", "Check the microphone and its level, and record again.");
        else if (peak < Faint) log.Say($"is very faint: its peak lies at {Db(peak):0} dB against full scale.", "Raise the recording level.");
        var runs = clipping.Max(c => c.Runs);
        if (runs == 0) return;
        var first = clipping.Where(c => c.Runs > 0).Min(c => c.First);
        log.Say($"is overloaded in {runs} {(runs == 1 ? "place" : "places")}, the first at {first / (double)source.Rate:0.00} s.", "Levels and bumps there read too small; lower the recording level.");
    }

    // Most blocks hold nothing odd: one look at their largest sample tells (it is not a number where one of them is not).
    private bool IsPlain(ReadOnlySpan<float> samples)
    {
        var largest = Math.Abs(TensorPrimitives.MaxMagnitude(samples));
        if (!(largest < source.FullScale)) return false;
        peak = Math.Max(peak, largest);
        return true;
    }

    private void Clean(Span<float> samples)
    {
        foreach (ref var sample in samples)
        {
            var size = Math.Abs(sample);

            // Beyond this nothing was ever recorded, and squares overflow; the comparison is false for what is not a number.
            if (size < 1e6f)
            {
                peak = Math.Max(peak, size);
                continue;
            }

            sample = 0;
            broken++;
        }
    }

    private static double Db(float amplitude) => 20 * Math.Log10(amplitude);

    private struct Clipping
    {
        private float last;
        private int length;

        public int Runs { get; private set; }

        public long First { get; private set; }

        public void Break() => length = 0;

        public void Next(float sample, float limit, long frame)
        {
            if (Math.Abs(sample) < limit)
            {
                length = 0;
                return;
            }

            // A cut-off peak is flat: neighbours beyond full scale that differ were not cut (float files may hold them).
            length = length == 0 || Math.Abs(sample - last) < 0.01f ? length + 1 : 0;
            last = sample;
            if (length != ClippedRun) return;
            if (Runs++ == 0) First = frame - ClippedRun + 1;
        }
    }
}
