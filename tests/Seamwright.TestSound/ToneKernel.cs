using Seamwright.Core.Sound;

namespace Seamwright.TestSound;

/// <summary>One moment of a tone, between which the kernel goes in straight lines.</summary>
/// <param name="Frequency">Hz.</param>
/// <param name="LevelDb">Against an ordinary note.</param>
/// <param name="Unrest">Share of the power that is noise, 0 to 1.</param>
internal readonly record struct ToneMoment(double Frequency, double LevelDb, double Unrest);

/// <summary>Makes samples of a brass tone: a sum of harmonics on one phase, a rush of air, the room's noise.</summary>
/// <remarks>Harmonics by the recurrence sin((k+1)θ) = 2·cos θ·sin kθ − sin((k−1)θ), so a sample costs two calls of a
/// trigonometric function; its slow equivalent is a sine for each harmonic. Allocates nothing after construction.</remarks>
internal sealed class ToneKernel
{
    private readonly double rate, ordinary, room, air, smoothing, noiseGain;
    private readonly uint seed;
    private readonly double[] amplitudes = new double[BrassSpectrum.Most];
    private readonly double[] targets = new double[BrassSpectrum.Most];
    private readonly double[] steps = new double[BrassSpectrum.Most];
    private SeededNoise noise;
    private double phase, smooth, smoother, rush;
    private int active;

    /// <summary>A kernel at rest.</summary>
    /// <param name="rate">Samples a second.</param>
    /// <param name="levelDb">Root mean square of an ordinary note against full scale.</param>
    /// <param name="roomDb">Root mean square of the room against full scale.</param>
    /// <param name="airDb">The rush of air against the tone.</param>
    /// <param name="seed">Of the noises.</param>
    public ToneKernel(double rate, double levelDb, double roomDb, double airDb, uint seed)
    {
        (this.rate, this.seed) = (rate, seed);
        (ordinary, room, air) = (Amplitude(levelDb), Amplitude(roomDb) * Math.Sqrt(3), Amplitude(airDb));

        // Two equal low-passes of one pole a at 1.5 kHz. Even noise of ±1 has the variance 1/3, and the pair passes
        // (1−a)⁴·(1+a²)/(1−a²)³ of it (the sum of its squared impulse response).
        smoothing = Math.Exp(-2 * Math.PI * 1500 / rate);
        var square = smoothing * smoothing;
        noiseGain = Math.Sqrt(3 * Math.Pow(1 - square, 3) / (Math.Pow(1 - smoothing, 4) * (1 + square)));
        Reset();
    }

    /// <summary>Back to silence, phase 0 and the first noise sample.</summary>
    public void Reset()
    {
        noise = new SeededNoise(seed);
        (phase, smooth, smoother, rush, active) = (0, 0, 0, 0, 0);
        Array.Clear(amplitudes);
    }

    /// <summary>The samples from one moment to the next.</summary>
    public void Process(in ToneMoment from, in ToneMoment to, Span<float> output)
    {
        if (output.IsEmpty) return;
        var rushStep = Aim(to, output.Length);
        var increment = 2 * Math.PI * from.Frequency / rate;
        var change = 2 * Math.PI * (to.Frequency - from.Frequency) / rate / output.Length;
        for (var i = 0; i < output.Length; i++)
        {
            smooth = (smoothing * smooth) + ((1 - smoothing) * noise.Uniform());
            smoother = (smoothing * smoother) + ((1 - smoothing) * smooth);
            output[i] = (float)(Harmonics() + (rush * noiseGain * smoother) + (room * noise.Uniform()));
            phase += increment;
            increment += change;
            rush += rushStep;
        }

        phase = Math.IEEERemainder(phase, 2 * Math.PI);
    }

    // Sets where amplitudes shall be after the block; returns the step of the noise.
    private double Aim(in ToneMoment to, int length)
    {
        var level = ordinary * Amplitude(to.LevelDb);
        var count = BrassSpectrum.Fill(to.Frequency, to.LevelDb, rate, targets);
        var tone = level * Math.Sqrt(1 - to.Unrest);
        active = Math.Max(count, active);
        var used = 0;
        for (var k = 0; k < active; k++)
        {
            steps[k] = ((tone * targets[k]) - amplitudes[k]) / length;
            if (Math.Abs(amplitudes[k]) > 1e-9 || targets[k] > 0) used = k + 1;
        }

        active = used;
        var wanted = level * Math.Sqrt(to.Unrest + (air * air));
        return (wanted - rush) / length;
    }

    private double Harmonics()
    {
        var twice = 2 * Math.Cos(phase);
        double before = 0, now = Math.Sin(phase), sum = 0;
        for (var k = 0; k < active; k++)
        {
            sum += amplitudes[k] * now;
            amplitudes[k] += steps[k];
            (before, now) = (now, (twice * now) - before);
        }

        return sum;
    }

    private static double Amplitude(double db) => Math.Pow(10, db / 20);
}
