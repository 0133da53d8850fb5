using System.Diagnostics;
using Seamwright.Core.Instruments;
using Seamwright.Core.Units;
using Seamwright.VoiceTrial.Model;
using Seamwright.VoiceTrial.Playing;

namespace Seamwright.VoiceTrial.Trials;

/// <summary>How fast, and whether the sample loop allocates.</summary>
internal static class SpeedTrial
{
    public static void Run(TextWriter output)
    {
        var instrument = Catalogue.Default;
        var wanted = instrument.Sounding(instrument.Open, 4, new(0)).Value;
        var still = new Moment(instrument.Open, new(0), 0.8 * wanted, Ear.Breath(wanted), 1);
        Measure("slide still", instrument, _ => still, output);
        Measure("slide always moving", instrument, t => still with { Travel = new Centimetres(20 + (10 * Math.Sin(6 * t))) }, output);
    }

    private static void Measure(string name, Instrument instrument, Func<double, Moment> at, TextWriter output)
    {
        const int Seconds = 20;
        var samples = new float[Seconds * Performer.Rate];
        var player = new Performer(instrument);
        player.Fill(samples.AsSpan(0, Performer.Rate), at);
        var best = double.MaxValue;
        long bytes = 0;
        for (var i = 0; i < 5; i++)
        {
            var before = GC.GetAllocatedBytesForCurrentThread();
            var start = Stopwatch.GetTimestamp();
            player.Fill(samples, at);
            best = Math.Min(best, Stopwatch.GetElapsedTime(start).TotalSeconds);
            bytes = Math.Max(bytes, GC.GetAllocatedBytesForCurrentThread() - before);
        }

        output.WriteLine($"{name,-20} {Seconds / best,6:0} times real time at 48 kHz on one core, {1e9 * best / samples.Length:0} ns a sample, {Horn.Count} resonances, {bytes} bytes allocated in {Seconds} s of sound");
    }
}
