using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.Loudness;

/// <summary>Measures loudness and true peak of a piece by ITU-R BS.1770-5, in blocks of any size.</summary>
/// <remarks>True peaks are under-read by at most 0.17 dB below 64 kHz, where the rate is over-sampled eight times. From 64 kHz (4 ×) and 128
/// kHz (2 ×) that holds up to a quarter and an eighth of the rate: 0.26 dB at 20 kHz, 0.69 and 3.01 dB at half the rate, where no music
/// has its peaks (20·log10 cos(π·f/N), see the decision on loudness). A frame that ends a tenth of a second is the
/// nearest one where the rate is no multiple of ten. Memory: 288 kB for an hour.</remarks>
public sealed class LoudnessMeter
{
    private const int Most = 4096;

    private readonly SampleRate rate;
    private readonly int channels;
    private readonly KWeighting[] weightings;
    private readonly PeakInterpolator[] interpolators;
    private readonly GatedLoudness gated = new();
    private readonly float[] peaks = new float[Most];
    private long frames, stepBegan, stepEnds, steps;
    private float peak;

    /// <param name="rate">8,000 to 192,000 Hz.</param>
    /// <param name="channels">1 or 2, each with the weight 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">Rate or channels are beyond that.</exception>
    public LoudnessMeter(SampleRate rate, int channels)
    {
        SoundFeed.CheckShape(rate, channels);
        (this.rate, this.channels) = (rate, channels);
        weightings = [.. Enumerable.Range(0, channels).Select(_ => new KWeighting(rate))];
        interpolators = [.. Enumerable.Range(0, channels).Select(_ => new PeakInterpolator(rate))];
        stepEnds = StepEnd(1);
    }

    /// <summary>Loudness and peak of all that was added, as if silence followed.</summary>
    public LoudnessReading Reading
    {
        get
        {
            var highest = interpolators.Max(i => Math.Max(peak, i.Tail(peak)));
            return new LoudnessReading(gated.Integrated, highest > 0 ? new TruePeak(20 * Math.Log10(highest)) : null);
        }
    }

    /// <summary>A whole feed, from its beginning to its end.</summary>
    /// <inheritdoc cref="Add" path="/exception"/>
    /// <exception cref="OperationCanceledException">It was cancelled.</exception>
    public static LoudnessReading Measure(SoundFeed sound, CancellationToken cancel = default)
    {
        var meter = new LoudnessMeter(sound.Rate, sound.Channels);
        var block = new float[Most * sound.Channels];
        sound.Restart();
        for (int read; (read = sound.Read(block)) > 0;)
        {
            cancel.ThrowIfCancellationRequested();
            meter.Add(block.AsSpan(0, read));
        }

        return meter.Reading;
    }

    /// <summary>The next frames; how they are cut into blocks changes nothing.</summary>
    /// <param name="interleaved">Whole frames; full scale is ±1.</param>
    /// <exception cref="ArgumentException">A broken frame, or a sample that is no finite number.</exception>
    public void Add(ReadOnlySpan<float> interleaved)
    {
        if (interleaved.Length % channels != 0) throw new ArgumentException($"{interleaved.Length} samples are no whole number of frames of {channels}.", nameof(interleaved));
        for (var i = 0; i < interleaved.Length; i++)
        {
            if (!float.IsFinite(interleaved[i])) throw new ArgumentException($"Frame {frames + (i / channels)} holds {interleaved[i]}, which is no sound.", nameof(interleaved));
        }

        while (!interleaved.IsEmpty)
        {
            var count = (int)Math.Min(Math.Min(Most, interleaved.Length / channels), stepEnds - frames);
            AddWithinStep(interleaved[..(count * channels)], count);
            interleaved = interleaved[(count * channels)..];
        }
    }

    /// <summary>Forgets everything.</summary>
    public void Reset()
    {
        foreach (var weighting in weightings) weighting.Reset();
        foreach (var interpolator in interpolators) interpolator.Reset();
        gated.Reset();
        (frames, stepBegan, steps, peak) = (0, 0, 0, 0);
        stepEnds = StepEnd(1);
    }

    private void AddWithinStep(ReadOnlySpan<float> interleaved, int count)
    {
        for (var c = 0; c < channels; c++)
        {
            weightings[c].Add(interleaved[c..], channels);
            var part = peaks.AsSpan(0, count);
            interpolators[c].Process(interleaved[c..], channels, part, peak);
            foreach (var p in part) peak = Math.Max(peak, p);
        }

        frames += count;
        if (frames == stepEnds) EndStep();
    }

    private void EndStep()
    {
        gated.Add(weightings.Sum(w => w.Take()), frames - stepBegan);
        stepBegan = frames;
        steps++;
        stepEnds = StepEnd(steps + 1);
    }

    private long StepEnd(long step) => rate.ToSamples(new Seconds(step / 10.0));
}
