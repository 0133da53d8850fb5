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
            var start = new ProcessStartInfo("ffmpeg") { UseShellExecute = false };
            foreach (var argument in (string[])["-v", "error", "-y", "-i", name + ".wav", "-lavfi", "aresample=12000,showspectrumpic=s=1200x480:scale=log:drange=80:legend=1", name + ".png"]) start.ArgumentList.Add(argument);
            using var ffmpeg = Process.Start(start)!;
            ffmpeg.WaitForExit();
            Console.WriteLine($"{name}.png: changes at {string.Join(", ", take.Truth.Notes.Skip(1).Select(n => $"{n.Onset}"))}");
        }
    }
}
