using Seamwright.Audio;
using Seamwright.Core.Listening;
using Seamwright.Core.Sound;

namespace Seamwright.Tests.Sound;

/// <summary>The voice's spectrum against single notes of a real player (Philharmonia Orchestra sound samples, CC BY-SA 3.0), by half-octave
/// bands of the harmonics' power at the loudest moment.</summary>
public class TimbreTests
{
    // The labels' own levels against mezzo-forte: proposed, for the files themselves are levelled.
    [Theory]
    [InlineData("pianissimo", -12)]
    [InlineData("mezzo-forte", 0)]
    [InlineData("fortissimo", 9)]
    public void Half_octave_bands_lie_as_a_real_trombones_do(string dynamic, double levelDb)
    {
        List<double> ours = [], plain = [];
        foreach (var (name, guess) in new[] { ("C3", 130.81), ("As3", 233.08), ("D4", 293.66), ("As4", 466.16) })
        {
            var path = Path.Combine(Repository.Root, "..", "shared", "sounds", $"trombone_{name}_1_{dynamic}_normal.mp3");
            if (!File.Exists(path)) continue;
            var recording = SoundFile.Read(path, cancel: TestContext.Current.CancellationToken).Value;
            var (fundamental, harmonics) = Harmonics(recording, guess);
            var real = Bands(fundamental, harmonics);
            var shape = new double[Timbre.Most];
            Timbre.Fill(fundamental, levelDb, 44_100, shape);
            var made = Bands(fundamental, shape[..harmonics.Length]);

            // Against a tone whose harmonics are all alike the same measure must be far worse.
            var flat = Bands(fundamental, [.. harmonics.Select(_ => 1.0)]);
            foreach (var band in real.Keys.Where(b => real[b] > -50))
            {
                ours.Add(Math.Pow(real[band] - made[band], 2));
                plain.Add(Math.Pow(real[band] - flat[band], 2));
            }
        }

        if (ours.Count == 0) Assert.Skip("no recordings of single notes in ../shared/sounds.");
        Assert.InRange(Math.Sqrt(ours.Average()), 0, 7);
        Assert.True(plain.Average() > 2 * ours.Average());
    }

    // dB against all power together, by the half octave from 100 Hz.
    private static Dictionary<int, double> Bands(double fundamental, double[] amplitudes)
    {
        var all = amplitudes.Sum(a => a * a);
        return amplitudes.Select((a, i) => (Band: (int)Math.Floor(2 * Math.Log2((i + 1) * fundamental / 100)), Power: a * a))
            .GroupBy(x => x.Band).ToDictionary(g => g.Key, g => 10 * Math.Log10((g.Sum(x => x.Power) / all) + 1e-9));
    }

    private static (double Fundamental, double[] Amplitudes) Harmonics(Recording recording, double guess)
    {
        var samples = recording.Samples.Span;
        var (loudest, at) = (0.0, 0);
        for (var i = 0; i + 8192 <= samples.Length; i += 2048)
        {
            var power = 0.0;
            foreach (var s in samples.Slice(i, 8192)) power += s * s;
            if (power > loudest) (loudest, at) = (power, i);
        }

        var piece = samples.Slice(at, 8192).ToArray();
        var rate = (double)recording.Rate.Value;
        var fundamental = Enumerable.Range(-30, 61).Select(c => guess * Math.Pow(2, 2 * c / 1200.0))
            .MaxBy(f => Enumerable.Range(1, 5).Sum(k => Math.Pow(Amplitude(piece, k * f / rate), 2)));
        return (fundamental, [.. Enumerable.Range(1, 30).TakeWhile(k => k * fundamental < 9_000).Select(k => Amplitude(piece, k * fundamental / rate))]);
    }

    private static double Amplitude(float[] samples, double turns)
    {
        double real = 0, imaginary = 0;
        for (var i = 0; i < samples.Length; i++)
        {
            var (sin, cos) = Math.SinCos(2 * Math.PI * turns * i);
            var v = samples[i] * (1 - Math.Cos(2 * Math.PI * i / samples.Length));
            (real, imaginary) = (real + (v * cos), imaginary + (v * sin));
        }

        return Math.Sqrt((real * real) + (imaginary * imaginary)) * 2 / samples.Length;
    }
}
