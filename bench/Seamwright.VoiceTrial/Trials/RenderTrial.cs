using Seamwright.Audio;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;
using Seamwright.VoiceTrial.Playing;

namespace Seamwright.VoiceTrial.Trials;

/// <summary>A short line to be measured by other ears: half a second a note, joined, each change touched by the tongue; the last note swells.</summary>
internal static class RenderTrial
{
    private const double Beat = 0.5, Move = 0.16, Last = 2.5;
    private static readonly string[] Line = ["Bb2", "F3", "Bb3", "A3", "G3", "F3", "G3", "A3", "Bb3", "D4", "F4"];

    public static int Run(FileInfo file, TextWriter output)
    {
        var instrument = Catalogue.Default;
        List<(SlideSetting Setting, Tuned Tuned, double Hertz)> notes = [];
        var ear = new Ear(instrument);
        foreach (var name in Line)
        {
            var setting = Settings.For(Pitch.Parse(name))!.Value.Setting;
            var hertz = instrument.Sounding(setting).Value;
            if (ear.Find(setting.Side, setting.Partial, setting.Travel, Ear.Breath(hertz)) is not { } tuned)
            {
                output.WriteLine($"{name} does not speak in tune; nothing is written.");
                return 1;
            }

            notes.Add((setting, tuned, hertz));
        }

        var samples = new Performer(instrument).Play((Beat * (notes.Count - 1)) + Last, At);
        var top = samples.Max(Math.Abs);
        for (var i = 0; i < samples.Length; i++) samples[i] *= 0.7f / top;
        using var stream = file.Create();
        WavFile.Write(stream, new Recording(samples, new SampleRate(Performer.Rate)));
        output.WriteLine($"{file.FullName}: {samples.Length / (double)Performer.Rate:0.0} s");
        return 0;

        Moment At(double t)
        {
            var i = Math.Clamp((int)Math.Round(t / Beat), 0, notes.Count - 1);
            var (a, b) = (notes[Math.Max(0, i - 1)], notes[i]);
            var centre = i * Beat;
            var slide = i == 0 ? 1 : MinimumJerk.Progress(((t - centre) / Move) + 0.5);
            var lips = i == 0 ? 1 : MinimumJerk.Progress(((t - centre) / 0.06) + 0.5);
            var travel = new Centimetres(a.Setting.Travel.Value + ((b.Setting.Travel.Value - a.Setting.Travel.Value) * slide));
            var touch = i == 0 || Math.Abs(t - centre) > 0.045 ? 1 : 1 - (0.3 * (1 + Math.Cos(2 * Math.PI * (t - centre) / 0.09)));
            var swell = 1 + (0.7 * Math.Clamp((t - (Beat * notes.Count)) / Last, 0, 1));
            var pascal = touch * swell * Between(Ear.Breath(a.Hertz), Ear.Breath(b.Hertz), lips);
            return new(b.Setting.Side, travel, Between(a.Tuned.LipRatio * a.Hertz, b.Tuned.LipRatio * b.Hertz, lips), Ear.Attack(pascal, t), Between(a.Tuned.Scale, b.Tuned.Scale, lips));
        }
    }

    private static double Between(double a, double b, double share) => a * Math.Pow(b / a, share);
}
