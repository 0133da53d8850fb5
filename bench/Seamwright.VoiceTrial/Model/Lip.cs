namespace Seamwright.VoiceTrial.Model;

/// <summary>One mass on a spring that the mouth's pressure pushes open: an outward-striking lip.</summary>
/// <remarks>
/// ÿ + (ω/Q)·ẏ + ω²·(y − H) = (p_mouth − p_cup)·S/m, with figures of S. Adachi and M. Sato, J. Acoust. Soc. Am. 99 (1996) 1200, as
/// tabulated in a published re-implementation: Q = 3 open and ½ closed, three times the spring added when closed, m = 1.5/((2π)²·f)
/// kg, lips 7 mm wide and hinged 4 mm above the gap (S = 28 mm²). Rest gap 0.29 mm as in a published trombone score for the finite-difference
/// model of Harrison-Harsle, Bilbao, Perry and Wishart (J. Acoust. Soc. Am. 2015). Outward striking because it sounds above its
/// resonance as players do in the low and middle register; a swinging lip adds one more state and one more thing to calibrate.
/// The motion is solved exactly for a force that stands still during a sample.
/// </remarks>
internal sealed class Lip(double rate)
{
    private static double E(string k,double d)=>Environment.GetEnvironmentVariable(k) is {} v?double.Parse(v):d;
    private static readonly double Area = E("AREA",28e-6), MassTimesHertz = E("MASS",1.5) / (4 * Math.PI * Math.PI), RestGap = E("GAP",0.05e-3);
    private static readonly double OpenQuality = E("Q",7), ClosedQuality = 0.5, ClosedStiffness = 4;

    private Motion open, closed;
    private double yield, gap, speed;

    /// <summary>How far the lips are apart, m; never below 0.</summary>
    public double Gap => Math.Max(0, gap);

    /// <summary>At rest.</summary>
    public void Reset() => (gap, speed) = (RestGap, 0);

    /// <summary>Sets the lips' own frequency in Hz.</summary>
    public void Tune(double hertz)
    {
        var omega = 2 * Math.PI * hertz;
        open = Motion.Of(omega, omega / OpenQuality, rate);
        closed = Motion.Of(omega * Math.Sqrt(ClosedStiffness), omega / ClosedQuality, rate);

        // Metres for each pascal: S/(m·ω²).
        yield = Area * hertz / (MassTimesHertz * omega * omega);
    }

    /// <summary>Goes one sample on under a pressure difference in Pa.</summary>
    public void Advance(double mouthOverCup)
    {
        var rest = RestGap + (yield * mouthOverCup);
        if (gap >= 0) open.Step(rest, ref gap, ref speed);
        else closed.Step(rest / ClosedStiffness, ref gap, ref speed);
    }

    private readonly record struct Motion(double Gg, double Gs, double Sg, double Ss)
    {
        // The matrix exponential of a damped oscillator over one sample.
        public static Motion Of(double omega, double damping, double rate)
        {
            var half = damping / 2;
            var turn = Math.Sqrt((omega * omega) - (half * half));
            var shrink = Math.Exp(-half / rate);
            var (sine, cosine) = Math.SinCos(turn / rate);
            return new(
                shrink * (cosine + (half / turn * sine)),
                shrink * sine / turn,
                -shrink * omega * omega / turn * sine,
                shrink * (cosine - (half / turn * sine)));
        }

        public void Step(double rest, ref double gap, ref double speed)
        {
            var away = gap - rest;
            (gap, speed) = (rest + (Gg * away) + (Gs * speed), (Sg * away) + (Ss * speed));
        }
    }
}
