namespace Seamwright.VoiceTrial.Model;

/// <summary>One mass on a spring that the mouth's pressure pushes open: an outward-striking lip.</summary>
/// <remarks>
/// ÿ + (ω/Q)·ẏ + ω²·(y − H) = (p_mouth − p_cup)·S/m, after S. Adachi and M. Sato, J. Acoust. Soc. Am. 99 (1996) 1200, whose figures were read
/// in a published re-implementation: m = 1.5/((2π)²·f) kg, lips 7 mm wide and hinged 4 mm above the gap (S = 28 mm²), quality ½ and
/// three springs more when closed. Departures, found by trying: quality 6 when open (theirs is 3, where this lip with one degree
/// of freedom does not oscillate; 7 in Velut, Vergez, Gilbert and Djahanbani 2017, from memory) and a rest gap of 0.05 mm (0.29 mm in
/// a published trombone score for the model of Harrison-Harsle, Bilbao, Perry and Wishart 2015; soft notes then do not speak).
/// Outward striking because it sounds above its resonance as players mostly do; a swinging lip has one more state and one more
/// thing to calibrate. The motion is solved exactly for a force that stands still during a sample.
/// </remarks>
internal sealed class Lip(double rate)
{
    private const double Area = 28e-6, MassTimesHertz = 1.5 / (4 * Math.PI * Math.PI), RestGap = 0.05e-3;
    /// <summary>Quality of the lips while they are apart.</summary>
    public const double OpenQuality = 6;

    private const double ClosedQuality = 0.5, ClosedStiffness = 4;

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
