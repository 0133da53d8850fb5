using Seamwright.Core.Units;
using Seamwright.VoiceTrial.Measuring;
using Seamwright.VoiceTrial.Playing;

namespace Seamwright.VoiceTrial.Trials;

/// <summary>Soft, ordinary and loud: level, brightness, and what the breath does to the pitch when the lips do not follow.</summary>
internal static class DynamicsTrial
{
    private static readonly double[] Breaths = [0.5, 0.7, 1, 1.4, 2];

    public static void Run(TextWriter output)
    {
        output.WriteLine("note  breath  level dB  centroid Hz  mean harmonic  cents as calibrated at breath 1  calibrated anew");
        foreach (var name in (ReadOnlySpan<string>)["Bb1", "F2", "Bb2", "F3", "Bb3", "F4", "Bb4", "F5"])
        {
            var (instrument, setting) = Settings.For(Pitch.Parse(name))!.Value;
            var wanted = instrument.Sounding(setting).Value;
            var ear = new Ear(instrument);
            var player = new Performer(instrument);
            var ordinary = ear.Find(setting.Side, setting.Partial, setting.Travel, Ear.Breath(wanted));
            foreach (var breath in Breaths)
            {
                var pascal = breath * Ear.Breath(wanted);
                var anew = ear.Find(setting.Side, setting.Partial, setting.Travel, pascal);
                output.Write($"{name,-5} {breath,6:0.0}  ");
                if (anew is not { } tuned)
                {
                    output.WriteLine("does not speak in tune");
                    continue;
                }

                var x = Hold(tuned, pascal);
                var heard = PeriodMeter.Steady(x, Performer.Rate, wanted / 2.6, wanted * 2.6) ?? wanted;
                var centroid = Levels.Centroid(x, heard, Performer.Rate);
                var drift = ordinary is { } o && PeriodMeter.Steady(Hold(o, pascal), Performer.Rate, wanted / 2.6, wanted * 2.6) is { } hz
                    ? $"{1200 * Math.Log2(hz / wanted),12:0.0}" : "   no pitch";
                output.WriteLine($"{Levels.Db(x),8:0.0} {centroid,12:0} {centroid / heard,14:0.0} {drift,20} {1200 * Math.Log2(heard / wanted),24:0.00}");
            }

            float[] Hold(Tuned tuned, double pascal) => player.Play(1.6, t => new(
                setting.Side, setting.Travel, tuned.LipRatio * wanted, Ear.Attack(pascal, t), tuned.Scale))[(int)(1.2 * Performer.Rate)..];
        }
    }
}
