using System.Diagnostics;
using Seamwright.Core.Units;
using Seamwright.VoiceTrial.Measuring;
using Seamwright.VoiceTrial.Playing;

namespace Seamwright.VoiceTrial.Trials;

/// <summary>Every chromatic note from E1 to F5: does it speak, on which partial, how soon, how well in tune?</summary>
internal static class PitchTrial
{
    public static void Run(double breath, TextWriter output)
    {
        output.WriteLine("note  instrument        setting  partial  breath Pa  lips/note  tube c  cents   speaks ms  tries  solver s");
        List<double> errors = [];
        List<double> times = [];
        var (silent, wrong, tries, spent) = (0, 0, 0, 0.0);
        for (var midi = Pitch.Parse("E1").Midi; midi <= Pitch.Parse("F5").Midi; midi++)
        {
            var pitch = Pitch.FromMidi(midi);
            if (Settings.For(pitch) is not var (instrument, setting))
            {
                output.WriteLine($"{pitch,-5} no setting");
                continue;
            }

            var wanted = instrument.Sounding(setting).Value;
            var pascal = breath * Ear.Breath(wanted);
            var ear = new Ear(instrument);
            var watch = Stopwatch.StartNew();
            var lips = ear.Find(setting.Side, setting.Partial, setting.Travel, pascal);
            var solver = watch.Elapsed.TotalSeconds;
            (tries, spent) = (tries + ear.Tries, spent + solver);
            output.Write($"{pitch,-5} {instrument.Id,-17} {setting.Label,-8} {setting.Partial,7} {pascal,10:0} ");
            if (lips is not { } found)
            {
                silent++;
                output.WriteLine($"      -- the right partial never speaks in tune             {ear.Tries,5} {solver,9:0.00}");
                continue;
            }

            var x = new Performer(instrument).Play(1.5, t => new(setting.Side, setting.Travel, found.LipRatio * wanted, Ear.Attack(pascal, t), found.Scale));
            var heard = PeriodMeter.Steady(x.AsSpan(48_000), Performer.Rate, wanted / 2.6, wanted * 2.6);
            var cents = heard is { } hz ? 1200 * Math.Log2(hz / wanted) : double.NaN;
            if (!(Math.Abs(cents) < 50)) wrong++;
            else errors.Add(cents);
            var speaks = Levels.SpeaksAfter(x, x.AsSpan(48_000), wanted, Performer.Rate);
            times.Add(speaks);
            output.WriteLine($"{found.LipRatio,10:0.00} {1200 * Math.Log2(found.Scale),7:0.0} {cents,6:0.00} {1000 * speaks,11:0} {ear.Tries,6} {solver,9:0.00}");
        }

        if (errors.Count == 0) return;
        errors.Sort((a, b) => Math.Abs(a).CompareTo(Math.Abs(b)));
        times.Sort();
        output.WriteLine($"never in tune {silent}, not held at the end {wrong}, sounding {errors.Count}: |cents| median {Math.Abs(errors[errors.Count / 2]):0.00}, worst {Math.Abs(errors[^1]):0.00}, within 2 cents {errors.Count(e => Math.Abs(e) <= 2)}");
        output.WriteLine($"time to speak ms: median {1000 * times[times.Count / 2]:0}, 90 % {1000 * times[times.Count * 9 / 10]:0}, worst {1000 * times[^1]:0}; solver {tries} tries, {spent:0.0} s in all");
    }
}
