using System.Diagnostics;
using BenchmarkDotNet.Attributes;
using Seamwright.Audio;
using Seamwright.Core.Listening;
using Seamwright.Core.Units;

namespace Seamwright.Benchmarks;

/// <summary>Two minutes of stereo at 48 kHz to mono samples, by our own decoders and through a pipe from ffmpeg. The pipe is the
/// baseline; × real time is 120 s divided by the mean.</summary>
[InProcess]
[MemoryDiagnoser]
public class DecodeBenchmarks
{
    private const int Seconds = 120;

    private readonly float[] buffer = new float[1 << 14];
    private DirectoryInfo folder = null!;

    [Params("flac", "mp3", "ogg", "opus", "m4a", "wav")]
    public string Kind { get; set; } = "";

    private string File => Path.Combine(folder.FullName, "take." + Kind);

    [GlobalSetup]
    public void Setup()
    {
        folder = Directory.CreateTempSubdirectory();
        var source = Path.Combine(folder.FullName, "mono.wav");
        var random = new Random(5);
        var sound = new float[Seconds * 48000];
        for (var i = 0; i < sound.Length; i++)
        {
            // Notes of half a second with an attack: encoders switch their blocks for it.
            var since = i % 24000 / 48000.0;
            sound[i] = (float)(Math.Min(1, since * 50) * Math.Exp(-2 * since) * ((0.4 * Math.Sin(0.03 * i)) + (0.2 * Math.Sin(0.0601 * i)) + (0.02 * random.NextDouble())));
        }

        using (var file = System.IO.File.Create(source)) WavFile.Write(file, new Recording(sound, new SampleRate(48000)));
        var coder = Kind switch { "mp3" => "libmp3lame", "ogg" => "libvorbis", "opus" => "libopus", "m4a" => "aac", "flac" => "flac", _ => "pcm_s16le" };
        using var process = Process.Start("ffmpeg", ["-v", "error", "-nostdin", "-i", source, "-af", "pan=stereo|c0=c0|c1=0.7*c0", "-c:a", coder, File]);
        process.WaitForExit();
    }

    [GlobalCleanup]
    public void Cleanup() => folder.Delete(recursive: true);

    [Benchmark(Baseline = true)]
    public long FfmpegPipe() => Decode(DecoderChoice.Ffmpeg);

    /// <summary>FLAC and M4A come from the pipe here, too.</summary>
    [Benchmark]
    public long Managed() => Decode(DecoderChoice.Managed);

    private long Decode(DecoderChoice choice)
    {
        using var stream = SoundFile.Open(File, new SoundOptions { Decoder = choice }).Value;
        long total = 0;
        for (int read; (read = stream.Read(buffer)) > 0;) total += read;
        return total;
    }
}
