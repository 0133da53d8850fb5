using System.CommandLine;
using System.Diagnostics;
using Seamwright.Core.Sound;

namespace Seamwright.VoiceCheck;

/// <summary>Seconds of sound a second of one core makes.</summary>
internal static class Speed
{
    private static readonly string[] Scale = ["Bb2", "C3", "D3", "F3", "Bb3", "C4", "D4", "A3"];

    public static Command Command()
    {
        var command = new Command("speed", "Speed of the voice at 48 kHz, and what it allocates.");
        command.SetAction(_ => Run());
        return command;
    }

    private static void Run()
    {
        var plan = Pairs.Plan(new(), 0.75, [.. Enumerable.Range(0, 200).Select(i => Scale[i * 5 % 8])]);
        var buffer = new float[4800];
        for (var round = 0; round < 4; round++)
        {
            var first = Stopwatch.StartNew();
            var voice = Voice.Open(plan, Playing.Clean(plan));
            voice.Read(buffer);
            first.Stop();
            var before = GC.GetAllocatedBytesForCurrentThread();
            var cpu = Process.GetCurrentProcess().TotalProcessorTime;
            while (voice.Read(buffer) > 0)
            {
            }

            var used = (Process.GetCurrentProcess().TotalProcessorTime - cpu).TotalSeconds;
            var seconds = voice.Length / (double)voice.Rate.Value;
            Console.WriteLine($"{seconds:0} s of sound: {seconds / used:0} x real time; first 0.1 s after {first.Elapsed.TotalMilliseconds:0.0} ms; {(GC.GetAllocatedBytesForCurrentThread() - before) / seconds:0} bytes a second of sound allocated");
        }
    }
}
