using Seamwright.Core.Sound;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Sound.Loudness;

/// <summary>Sounds for the loudness tests.</summary>
internal static class Tones
{
    /// <summary>A sine on each channel alike; each stretch is a level of its peak (dBFS) and a time (s).</summary>
    public static float[] Sine(int rate, int channels, double frequency, params (double Level, double Seconds)[] stretches)
    {
        var samples = new List<float>();
        foreach (var (level, seconds) in stretches)
        {
            var amplitude = Math.Pow(10, level / 20);
            for (var i = 0; i < (int)Math.Round(seconds * rate); i++)
            {
                var value = (float)(amplitude * Math.Sin(2 * Math.PI * frequency * i / rate));
                for (var c = 0; c < channels; c++) samples.Add(value);
            }
        }

        return [.. samples];
    }

    /// <summary>A changing piece: a rising tone that swells and fades, some noise, a short silence; channels unlike.</summary>
    public static float[] Piece(int rate, int channels, double seconds, uint seed = 3)
    {
        var noise = new SeededNoise(seed);
        var samples = new float[(int)(seconds * rate) * channels];
        for (var i = 0; i < samples.Length; i++)
        {
            var t = i / channels / (double)rate;
            var swell = t % 7 > 6 ? 0 : 0.05 + (0.15 * Math.Pow(Math.Sin(t), 2));
            var tone = Math.Sin(2 * Math.PI * ((150 * t) + (20 * t * t))) + (0.3 * Math.Sin(2 * Math.PI * 1700 * t));
            samples[i] = (float)(swell * (((i % channels == 0 ? 1 : 0.6) * tone) + (0.2 * noise.Uniform())));
        }

        return samples;
    }

    /// <summary>A soft tone with a hard stroke twice a second, two periods of 2 kHz long.</summary>
    public static float[] Clicks(int rate, double tone, double click, double seconds)
    {
        var samples = Sine(rate, 1, 233.08, (20 * Math.Log10(tone), seconds));
        for (var start = rate / 4; start + (rate / 1000) < samples.Length; start += rate / 2)
        {
            for (var i = 0; i < rate / 1000; i++) samples[start + i] += (float)(click * Math.Sin(2 * Math.PI * 2000 * i / rate));
        }

        return samples;
    }

    public static SamplesFeed Feed(float[] samples, int rate, int channels = 1) => new(samples, new SampleRate(rate), channels);

    public static float[] All(SoundFeed feed, int block = 777)
    {
        var samples = new List<float>();
        var buffer = new float[block * feed.Channels];
        for (int read; (read = feed.Read(buffer)) > 0;) samples.AddRange(buffer[..read]);
        return [.. samples];
    }
}
