using BenchmarkDotNet.Attributes;
using Seamwright.Core.Sound;
using Seamwright.Core.Sound.Loudness;
using Seamwright.Core.Units;

namespace Seamwright.Benchmarks;

/// <summary>One minute of mono at 48 kHz measured once, brought to a loudness by a gain alone, and through the limiter. Measuring is the
/// baseline; × real time is 60 s divided by the mean.</summary>
[InProcess]
[MemoryDiagnoser]
public class LevellingBenchmarks
{
    private const int Rate = 48_000, Length = 60;

    private SamplesFeed even = null!, struck = null!;

    [GlobalSetup]
    public void Setup()
    {
        var tone = new float[Rate * Length];
        var clicks = new float[Rate * Length];
        for (var i = 0; i < tone.Length; i++)
        {
            var since = i % (Rate / 2) / (double)Rate;
            tone[i] = (float)(0.14 * Math.Sin(0.0305 * i));

            // A beat of a metronome stands 12 dB out of the tone.
            clicks[i] = tone[i] + (float)(0.6 * Math.Exp(-since / 0.004) * Math.Sin(0.137 * i));
        }

        (even, struck) = (new SamplesFeed(tone, new SampleRate(Rate)), new SamplesFeed(clicks, new SampleRate(Rate)));
    }

    [Benchmark(Baseline = true)]
    public LoudnessReading Measure() => LoudnessMeter.Measure(even);

    [Benchmark]
    public LevelledSound ByAGain() => Leveller.Level(even);

    [Benchmark]
    public LevelledSound ThroughTheLimiter() => Leveller.Level(struck);
}
