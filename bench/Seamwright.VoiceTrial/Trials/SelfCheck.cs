using Seamwright.Core.Instruments;
using Seamwright.VoiceTrial.Measuring;
using Seamwright.VoiceTrial.Model;
using Seamwright.VoiceTrial.Playing;

namespace Seamwright.VoiceTrial.Trials;

/// <summary>Each part against what can be written down for it.</summary>
internal static class SelfCheck
{
    private const double Rate = 48_000;

    /// <returns>Whether everything is as it should be.</returns>
    public static bool Run(TextWriter output)
    {
        (string Name, double Off, double Most)[] all =
        [
            ("impulse response of a resonance against Z·ω/Q·e^(−αt)·cos ωt, relative", Impulse(), 1e-9),
            ("driven resonance against its stated height, relative", Peak(), 0.01),
            ("ringing of the open lip against ω·√(1 − 1/(4·Q²)), cents", LipRing(), 0.5),
            ("period meter on a tone of ten harmonics at 61.7 Hz, cents", Meter(), 0.05),
            ("radiation through the bell at 700 Hz against −3 dB, dB", BellCorner(), 0.1),
            ("bytes allocated by a second of sound with a moving slide", Bytes(), 0),
        ];
        foreach (var (name, off, most) in all) output.WriteLine($"{(off <= most ? "passed" : "FAILED")}  {name}: {off:g3}, at most {most:g3}");
        return all.All(a => a.Off <= a.Most);
    }

    private static ModalBank One(double hertz, double height, double quality)
    {
        var bank = new ModalBank(Rate, 1);
        bank.Tune([hertz], [height], [quality]);
        return bank;
    }

    private static double Impulse()
    {
        var bank = One(233, 4e7, 36);
        var omega = 2 * Math.PI * 233;
        var loss = omega / 72;
        var turn = Math.Sqrt((omega * omega) - (loss * loss));
        bank.Feed(1);
        var worst = 0.0;
        for (var i = 1; i < 4800; i++)
        {
            var t = i / Rate;
            var exact = 4e7 * omega / 36 / Rate * Math.Exp(-loss * t) * Math.Cos(turn * t);
            worst = Math.Max(worst, Math.Abs(bank.Advance() - exact) / (4e7 * omega / 36 / Rate));
            bank.Feed(0);
        }

        return worst;
    }

    private static double Peak()
    {
        var bank = One(233, 4e7, 36);
        var top = 0.0;
        for (var i = 0; i < 48_000; i++)
        {
            var flow = Math.Cos(2 * Math.PI * 233 * i / Rate);
            var pressure = bank.Advance() + (bank.Feedthrough * flow);
            bank.Feed(flow);
            if (i > 40_000) top = Math.Max(top, Math.Abs(pressure));
        }

        return Math.Abs((top / 4e7) - 1);
    }

    private static double LipRing()
    {
        var lip = new Lip(Rate);
        lip.Tune(200);
        lip.Reset();
        for (var i = 0; i < 48_000; i++) lip.Advance(2900);
        var rest = Settled(3000);
        List<double> crossings = [];
        var before = 0.0;
        for (var i = 0; i < 1200; i++)
        {
            lip.Advance(3000);
            var now = lip.Gap - rest;
            if (i > 0 && before < 0 && now >= 0) crossings.Add(i - (now / (now - before)));
            before = now;
        }

        var heard = Rate * (crossings.Count - 1) / (crossings[^1] - crossings[0]);
        return Math.Abs(1200 * Math.Log2(heard / (200 * Math.Sqrt(1 - (1 / (4 * Lip.OpenQuality * Lip.OpenQuality))))));

        static double Settled(double pascal)
        {
            var still = new Lip(Rate);
            still.Tune(200);
            still.Reset();
            for (var i = 0; i < 48_000; i++) still.Advance(pascal);
            return still.Gap;
        }
    }

    private static double Meter()
    {
        var x = new float[9600];
        for (var k = 1; k <= 10; k++)
        {
            for (var i = 0; i < x.Length; i++) x[i] += (float)(0.1 / k * Math.Sin((2 * Math.PI * k * 61.7 * i / Rate) + k));
        }

        return PeriodMeter.Steady(x, Rate, 25, 160) is { } hz ? Math.Abs(1200 * Math.Log2(hz / 61.7)) : double.PositiveInfinity;
    }

    // So soft that nothing steepens.
    private static double BellCorner()
    {
        var bell = new Bell(Rate);
        var top = 0.0;
        for (var i = 0; i < 48_000; i++)
        {
            var y = bell.Advance(1e-3 * Math.Sin(2 * Math.PI * 700 * i / Rate));
            if (i > 40_000) top = Math.Max(top, Math.Abs(y));
        }

        return Math.Abs((20 * Math.Log10(top / 1e-3)) + 3.01);
    }

    private static double Bytes()
    {
        var instrument = Catalogue.Default;
        var player = new Performer(instrument);
        var samples = new float[48_000];
        Moment At(double t) => new(instrument.Open, new(10 * t), 190, 3000, 1);
        Func<double, Moment> at = At;
        player.Fill(samples, at);
        var before = GC.GetAllocatedBytesForCurrentThread();
        player.Fill(samples, at);
        return GC.GetAllocatedBytesForCurrentThread() - before;
    }
}
