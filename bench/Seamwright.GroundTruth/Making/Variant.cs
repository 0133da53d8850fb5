using System.Collections.Immutable;
using Seamwright.GroundTruth.Truth;

namespace Seamwright.GroundTruth.Making;

/// <summary>What a room, a microphone or a telephone does to a take. The truth stays that of the player.</summary>
/// <param name="Name">For file names and tables.</param>
/// <param name="Share">Every so many takes get it in the full set.</param>
/// <param name="QuickShare">Every so many in the quick one; 0 for none.</param>
/// <param name="Apply">Samples, detail in words, noise if any.</param>
internal sealed record Variant(string Name, int Share, int QuickShare, Func<MadeTake, string, Random, (float[] Samples, string Detail, TruthNoise? Noise)> Apply)
{
    public static readonly ImmutableArray<Variant> All =
    [
        Noise(40, 6, 0), Noise(30, 2, 4), Noise(20, 4, 5), Room(0.4, 9, 4, 5), Room(0.8, 6, 6, 0),
        Codec("mp3", "libmp3lame", "mp3", 6), Codec("opus", "libopus", "ogg", 6),
        new("lowpass", 6, 0, (take, _, _) => (Spectrum.LowPassed(take.Samples, take.Rate, 2500), "no more than 2.5 kHz: Butterworth, fourth order, without delay", null)),
        Hum(50, 6, 0), Hum(60, 6, 0), Room(0.3, 10, 2, 0), Room(0.2, 6, 2, 0),
    ];

    /// <summary>Whether ffmpeg is needed.</summary>
    public bool NeedsCodec => Name is "mp3" or "opus";

    /// <summary>A take under this condition.</summary>
    /// <param name="take">Clean.</param>
    /// <param name="wav">Its file.</param>
    /// <param name="random">Seeded.</param>
    public MadeTake Of(MadeTake take, string wav, Random random)
    {
        var (samples, detail, noise) = Apply(take, wav, random);
        return take with
        {
            Samples = samples,
            Truth = take.Truth with { Name = $"{take.Truth.Name}--{Name}", Condition = Name, ConditionDetail = detail, Noise = noise },
        };
    }

    private static Variant Noise(int snr, int share, int quick) => new($"noise{snr}", share, quick, (take, _, random) =>
    {
        var power = SoundingPower(take) * Math.Pow(10, -snr / 10.0);
        var (noise, density) = Spectrum.Pink(take.Samples.Length, take.Rate, power, random);
        return ([.. take.Samples.Zip(noise, (a, b) => a + b)], $"pink noise from 20 Hz up, {snr} dB below the sounding tone, whole band", new TruthNoise("pink", snr, density));
    });

    // Six lines, each half as strong as the one before it, at a frequency as far off as mains are, which wanders a little.
    private static Variant Hum(int mains, int share, int quick) => new($"hum{mains}", share, quick, (take, _, random) =>
    {
        const double DbBelow = 10, Off = 0.04, Wander = 0.005, Every = 5;
        var level = Math.Sqrt(2 * SoundingPower(take) * Math.Pow(10, -DbBelow / 10) / Enumerable.Range(0, 6).Sum(k => Math.Pow(0.25, k)));
        var starts = Enumerable.Range(0, 6).Select(_ => 2 * Math.PI * random.NextDouble()).ToArray();
        var (hz, phase, samples) = (mains + ChangePlays.Normal(random, Off), 0.0, (float[])take.Samples.Clone());
        for (var i = 0; i < samples.Length; i++)
        {
            phase += 2 * Math.PI * (hz + (Wander * Math.Sin(2 * Math.PI * i / (Every * take.Rate)))) / take.Rate;
            for (var k = 0; k < 6; k++) samples[i] += (float)(level * Math.Pow(0.5, k) * Math.Sin(((k + 1) * phase) + starts[k]));
        }

        return (samples, $"hum of {hz:0.00} Hz and five multiples, {DbBelow} dB below the sounding tone", null);
    });

    private static Variant Room(double rt60, double directDb, int share, int quick) => new($"reverb{rt60}", share, quick, (take, _, random) =>
        (Spectrum.Convolved(take.Samples, Response(rt60, directDb, take.Rate, random)), $"exponential noise tail from 3 ms on, RT60 {rt60} s, direct sound {directDb} dB above it", null));

    private static Variant Codec(string name, string codec, string container, int share) => new(name, share, 0, (take, wav, _) =>
        (Ffmpeg.Through(wav, take.Samples, take.Rate, codec, container, "64k"), $"{name} at 64 kbit/s", null));

    // The direct sound, then noise that decays by 60 dB in the stated time; all of the tail holds so much less than the direct sound.
    private static double[] Response(double rt60, double directDb, int rate, Random random)
    {
        var response = new double[(int)(1.2 * rt60 * rate)];
        for (var i = (int)(0.003 * rate); i < response.Length; i++) response[i] = ChangePlays.Normal(random, 1) * Math.Pow(10, -3 * i / (rt60 * rate));
        var scale = Math.Sqrt(Math.Pow(10, -directDb / 10) / response.Sum(x => x * x));
        for (var i = 0; i < response.Length; i++) response[i] *= scale;
        response[0] = 1;
        return response;
    }

    /// <summary>Mean square of its notes.</summary>
    public static double SoundingPower(MadeTake take)
    {
        var levels = take.Truth.Notes.Select(n => Math.Pow(10, n.LevelDb / 10)).ToList();
        return levels.Average();
    }
}
