using System.Collections.Concurrent;
using Seamwright.Audio;
using Seamwright.Core.Listening;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Audio;

/// <summary>A temporary folder with one invented sound in many kinds of file, each encoded once.</summary>
public sealed class SoundFolder : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory();
    private readonly ConcurrentDictionary<string, Lazy<string>> made = new();

    public string Path(string name) => System.IO.Path.Combine(folder.FullName, name);

    /// <summary>The sound as WAV, 16 bits.</summary>
    public string Wav(int rate, int channels) => Made($"source-{rate}-{channels}.wav", path =>
    {
        var sound = Sound(rate);
        using var file = File.Create(path + ".mono");
        WavFile.Write(file, new Recording(sound, new SampleRate(rate)));
        file.Close();
        if (channels == 1) File.Move(path + ".mono", path);
        else OutsideCoder.Run("-v", "error", "-f", "wav", "-i", path + ".mono", "-af", "pan=stereo|c0=c0|c1=0.7*c0", "-c:a", "pcm_s16le", path);
    });

    /// <summary>The sound in another kind of file.</summary>
    /// <param name="name">With the ending that the encoder goes by.</param>
    /// <param name="rate">Hz.</param>
    /// <param name="channels">1 or 2.</param>
    /// <param name="encoder">The codec, and whatever else the encoder is to be told.</param>
    public string Encoded(string name, int rate, int channels, params string[] encoder)
    {
        OutsideCoder.Need(encoder[0]);
        var source = Wav(rate, channels);
        var key = string.Join("", encoder).Replace(":", "", StringComparison.Ordinal);
        return Made($"{key}-{rate}-{channels}-{name}", path => OutsideCoder.Run(["-v", "error", "-y", "-i", source, "-c:a", .. encoder, path]));
    }

    public string Write(string name, byte[] bytes)
    {
        var path = Path(name);
        File.WriteAllBytes(path, bytes);
        return path;
    }

    public void Dispose() => folder.Delete(recursive: true);

    /// <summary>2.7 s of a rising tone with overtones and a fading second one: no stretch is like another.</summary>
    public static float[] Sound(int rate)
    {
        var sound = new float[(int)(2.7 * rate)];
        for (var i = 0; i < sound.Length; i++)
        {
            var t = i / (double)rate;
            var rising = 2 * Math.PI * ((90 * t) + (110 * t * t));
            sound[i] = (float)((0.3 * Math.Sin(rising)) + (0.15 * Math.Sin(2 * rising)) + (0.1 * Math.Exp(-t) * Math.Sin(2 * Math.PI * 233.08 * t)));
        }

        return sound;
    }

    private string Made(string name, Action<string> make) => made.GetOrAdd(name, _ => new Lazy<string>(() =>
    {
        make(Path(name));
        return Path(name);
    })).Value;
}
