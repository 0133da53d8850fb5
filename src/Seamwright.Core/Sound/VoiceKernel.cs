using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Seamwright.Core.Sound;

/// <summary>Makes samples out of the air's swinging: for each resonance that sounds a sum of harmonics on one phase, the rush of air, the room.</summary>
/// <remarks>Harmonics by the recurrence sin((k+1)θ) = 2·cos θ·sin kθ − sin((k−1)θ), eight samples at a time; its slow equivalent is a
/// sine for each harmonic. Allocates nothing after construction.</remarks>
internal sealed class VoiceKernel
{
    /// <summary>Samples between two looks at the air: 0.33 ms at 48 kHz. A multiple of 8.</summary>
    /// <param name="rate">Samples a second.</param>
    public static int BlockFor(double rate) => 8 * Math.Max(1, (int)Math.Round(rate / 24_000));

    // So many resonances sound at once at most: two while one gives way to another, and over a wide leap some between, on either tube.
    private const int Most = 8;

    // A resonance under a ten-thousandth of all power adds nothing to hear.
    private const double Least = 1e-4;

    private readonly double rate, ordinary, room, smoothing, noiseGain;
    private readonly Rush air;
    private readonly uint seed;
    private readonly ToneBank[] banks;
    private SeededNoise noise;
    private double smooth, smoother, rush;

    /// <summary>A kernel at rest.</summary>
    public VoiceKernel(VoiceSettings settings)
    {
        (rate, seed) = (settings.Rate.Value, settings.Seed);
        (ordinary, room, air) = (Amplitude(settings.Level.Value), Amplitude(settings.Room.Value) * Math.Sqrt(3), Rush.Of(settings));

        // Two equal low-passes of one pole at 1.5 kHz.
        smoothing = Math.Exp(-2 * Math.PI * 1500 / rate);
        noiseGain = 1 / LowPass.Passed(smoothing);
        banks = new ToneBank[Most];
        for (var i = 0; i < Most; i++) banks[i] = new ToneBank(rate, settings.Level.Value);
        noise = new SeededNoise(seed);
    }

    /// <summary>The samples that lead from the state at the last call to this one.</summary>
    /// <param name="column">The air now.</param>
    /// <param name="drive">Air through the lips now.</param>
    /// <param name="breath">Power of the note this breath would hold.</param>
    /// <param name="output">A multiple of 8.</param>
    public void Process(AirColumn column, double drive, double breath, Span<float> output)
    {
        output.Clear();
        Assign(column);
        var levelDb = 10 * Math.Log10(Math.Max(column.Power, 1e-12));
        foreach (var bank in banks)
        {
            if (bank.Key >= 0) bank.Add(column, levelDb, output);
        }

        var step = ((ordinary * air.At(column.Power, drive, breath)) - rush) / output.Length;
        foreach (ref var sample in output)
        {
            smooth = (smoothing * smooth) + ((1 - smoothing) * noise.Uniform());
            smoother = (smoothing * smoother) + ((1 - smoothing) * smooth);
            sample += (float)((rush * noiseGain * smoother) + (room * noise.Uniform()));
            rush += step;
        }
    }

    // Each resonance keeps its bank; the strongest of those without one take what is free.
    private void Assign(AirColumn column)
    {
        foreach (ref readonly var mode in column.Modes)
        {
            if (mode.Tone < Math.Max(Least * column.Power, ToneBank.Unheard) || Of(mode.Key) is not null) continue;
            if (Free() is { } bank) bank.Begin(mode);
        }
    }

    private ToneBank? Of(int key)
    {
        foreach (var bank in banks)
        {
            if (bank.Key == key) return bank;
        }

        return null;
    }

    private ToneBank? Free() => Of(-1);

    private static double Amplitude(double db) => Math.Pow(10, db / 20);
}

/// <summary>The harmonics of one resonance.</summary>
internal sealed class ToneBank
{
    // The spectrum is computed anew when the level has moved by so many dB or the pitch by so many octaves (10 cents).
    private const double StaleDb = 0.2, StaleOctaves = 10.0 / 1200;

    // A power 90 dB below an ordinary note is nothing.
    public const double Unheard = 1e-9;

    private readonly double rate, ordinary;
    private readonly double[] shape = new double[Timbre.Most], amplitudes = new double[Timbre.Most], steps = new double[Timbre.Most];
    private double phase, frequency, shapedDb, shapedPitch;
    private int active, shaped;

    public ToneBank(double rate, double levelDb)
    {
        (this.rate, ordinary) = (rate, Math.Pow(10, levelDb / 20));
    }

    /// <summary>Which resonance; −1 while the bank is free.</summary>
    public int Key { get; private set; } = -1;

    /// <summary>Takes a resonance that begins to sound.</summary>
    public void Begin(in AirColumn.Mode mode)
    {
        (Key, phase, frequency, active, shaped) = (mode.Key, 0, Math.Pow(2, mode.Pitch), 0, 0);
        Array.Clear(amplitudes);
    }

    /// <summary>Adds samples; gives the bank free when its resonance has died away.</summary>
    public void Add(AirColumn column, double levelDb, Span<float> output)
    {
        var (tone, pitch) = (0.0, shapedPitch);
        foreach (ref readonly var mode in column.Modes)
        {
            if (mode.Key == Key) (tone, pitch) = (mode.Tone < Unheard ? 0 : mode.Tone, mode.Pitch);
        }

        Shape(levelDb, pitch);
        var amplitude = ordinary * Math.Sqrt(tone);
        var loudest = 0.0;
        for (var k = 0; k < active; k++)
        {
            steps[k] = ((amplitude * (k < shaped ? shape[k] : 0)) - amplitudes[k]) / output.Length;
            loudest = Math.Max(loudest, Math.Abs(amplitudes[k]));
        }

        var after = Math.Pow(2, pitch);
        Sound(after, output);
        frequency = after;
        if (tone == 0 && loudest < 1e-9) Key = -1;
    }

    private void Shape(double levelDb, double pitch)
    {
        if (shaped > 0 && Math.Abs(levelDb - shapedDb) < StaleDb && Math.Abs(pitch - shapedPitch) < StaleOctaves) return;
        (shapedDb, shapedPitch) = (levelDb, pitch);
        shaped = Timbre.Fill(Math.Pow(2, pitch), levelDb, rate, shape);
        active = Math.Max(active, shaped);
    }

    private void Sound(double after, Span<float> output)
    {
        var increment = 2 * Math.PI * frequency / rate;
        var change = 2 * Math.PI * (after - frequency) / rate / output.Length;
        Span<double> sines = stackalloc double[8], twices = stackalloc double[8], sums = stackalloc double[8];
        for (var at = 0; at < output.Length; at += 8)
        {
            for (var j = 0; j < 8; j++)
            {
                var i = at + j;
                var (sin, cos) = Math.SinCos(phase + (i * increment) + (change * i * (i - 1) / 2));
                (sines[j], twices[j]) = (sin, 2 * cos);
            }

            Harmonics(at, sines, twices, sums);
            for (var j = 0; j < 8; j++) output[at + j] += (float)sums[j];
        }

        for (var k = 0; k < active; k++) amplitudes[k] += steps[k] * output.Length;
        var n = output.Length;
        phase = Math.IEEERemainder(phase + (n * increment) + (change * n * (n - 1) / 2), 2 * Math.PI);
    }

    private void Harmonics(int at, ReadOnlySpan<double> sines, ReadOnlySpan<double> twices, Span<double> sums)
    {
        ref var s = ref MemoryMarshal.GetReference(sines);
        ref var t = ref MemoryMarshal.GetReference(twices);
        Vector256<double> nowA = Vector256.LoadUnsafe(ref s), nowB = Vector256.LoadUnsafe(ref s, 4);
        Vector256<double> twiceA = Vector256.LoadUnsafe(ref t), twiceB = Vector256.LoadUnsafe(ref t, 4);
        Vector256<double> beforeA = default, beforeB = default, sumA = default, sumB = default;
        var placeA = Vector256.Create(at + 0.0, at + 1, at + 2, at + 3);
        var placeB = placeA + Vector256.Create(4.0);
        for (var k = 0; k < active; k++)
        {
            var amplitude = Vector256.Create(amplitudes[k]);
            var slope = Vector256.Create(steps[k]);
            sumA += (amplitude + (slope * placeA)) * nowA;
            sumB += (amplitude + (slope * placeB)) * nowB;
            (beforeA, nowA) = (nowA, (twiceA * nowA) - beforeA);
            (beforeB, nowB) = (nowB, (twiceB * nowB) - beforeB);
        }

        ref var sum = ref MemoryMarshal.GetReference(sums);
        sumA.StoreUnsafe(ref sum);
        sumB.StoreUnsafe(ref sum, 4);
    }
}
