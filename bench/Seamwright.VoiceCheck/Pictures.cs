using System.CommandLine;
using System.Diagnostics;
using Seamwright.Audio;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;

namespace Seamwright.VoiceCheck;

/// <summary>Sound files and spectrograms of clean and faulty changes, to be looked at.</summary>
internal static class Pictures
{
    private const int Width = 1000, Height = 384, Thinning = 8, Reach = 8 * Thinning;

    private static readonly double[] LowPass = LowPassed();

    private static readonly Fault[] Shown = [Fault.None, Fault.Smeared, Fault.LateTongue, Fault.HardTongue, Fault.StoppedAir, Fault.NoTongue, Fault.Cracked];

    public static Command Command()
    {
        var folder = new Option<string>("--output", "-o") { Description = "Folder for WAV and PNG.", Required = true, HelpName = "DIR" };
        var command = new Command("picture", "A spectrogram of each fault (needs ffmpeg).") { folder };
        command.SetAction(r => Run(r.GetValue(folder)!));
        return command;
    }

    private static void Run(string folder)
    {
        Directory.CreateDirectory(folder);
        var plan = Pairs.Plan(new PlanSettings { Weights = CostWeights.Presets["plain-positions"], Player = new Player { ValvesAllowed = false } }, 0.8, "Bb3", "A3", "G3", "Bb3", "F3", "Bb3", "D4");
        foreach (var fault in Shown)
        {
            var take = Voice.Render(plan, new FaultOrder(fault, null, []).On(plan));
            var name = Path.Combine(folder, fault.ToString());
            using (var stream = File.Create(name + ".wav")) WavFile.Write(stream, new Recording(take.Samples, take.Rate));
            Save(Grey(take.Samples.Span), name + ".png");
            Console.WriteLine($"{name}.png: changes at {string.Join(", ", take.Truth.Notes.Skip(1).Select(n => $"{n.Onset}"))}");
        }
    }

    // What lies above the thinned samples' half rate would fold back: a sinc at it under a Hann window, 16 thinned samples long.
    private static double[] LowPassed()
    {
        var taps = Enumerable.Range(-Reach, (2 * Reach) + 1).Select(j => (j == 0 ? 1 : Math.Sin(Math.PI * j / Thinning) / (Math.PI * j / Thinning)) * (1 + Math.Cos(Math.PI * j / (Reach + 1.0)))).ToArray();
        return [.. taps.Select(t => t / taps.Sum())];
    }

    // Hann windows of 64 ms, 0 to 3 kHz from the bottom up, 80 dB from white to black.
    private static byte[] Grey(ReadOnlySpan<float> samples)
    {
        var pixels = new byte[Width * Height];
        const int Window = 3072 / Thinning;
        var thin = new double[samples.Length / Thinning];
        for (var i = 0; i < thin.Length; i++)
        {
            for (var j = -Reach; j <= Reach; j++) thin[i] += (i * Thinning) + j is >= 0 and var at && at < samples.Length ? LowPass[j + Reach] * samples[at] : 0;
        }

        for (var x = 0; x < Width; x++)
        {
            var at = (int)((long)x * (thin.Length - Window) / Width);
            for (var y = 0; y < Height; y++)
            {
                var (real, imaginary) = (0.0, 0.0);
                for (var i = 0; i < Window; i++)
                {
                    var (sin, cos) = Math.SinCos(Math.PI * y * i / Height);
                    var v = thin[at + i] * (1 - Math.Cos(2 * Math.PI * i / Window));
                    (real, imaginary) = (real + (v * cos), imaginary + (v * sin));
                }

                var db = 10 * Math.Log10((((real * real) + (imaginary * imaginary)) * 4 / Window / Window) + 1e-12);
                pixels[((Height - 1 - y) * Width) + x] = (byte)Math.Clamp((db + 90) / 80 * 255, 0, 255);
            }
        }

        return pixels;
    }

    private static void Save(byte[] pixels, string name)
    {
        var start = new ProcessStartInfo("ffmpeg") { UseShellExecute = false, RedirectStandardInput = true };
        foreach (var argument in (string[])["-v", "error", "-y", "-f", "rawvideo", "-pix_fmt", "gray", "-s", $"{Width}x{Height}", "-i", "-", name]) start.ArgumentList.Add(argument);
        using var ffmpeg = Process.Start(start)!;
        ffmpeg.StandardInput.BaseStream.Write(pixels);
        ffmpeg.StandardInput.Close();
        ffmpeg.WaitForExit();
    }
}
