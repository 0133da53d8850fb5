using System.Numerics;

namespace Seamwright.VoiceTrial.Model;

/// <summary>Pressure at the mouthpiece out of the flow into it: Z(ω) = Σ C_n/(iω − s_n) + conjugate, s_n = −ω_n/(2·Q_n) + i·ω_n·√(1 − 1/(4·Q_n²)).</summary>
/// <remarks>C_n = Z_n·ω_n/(2·Q_n), so that each peak is Z_n high (modal form as in Silva, Vergez, Guillemain, Kergomard and
/// Debut, MoReeSC, 2014, from memory). Each sample turns and shrinks every mode exactly; the flow comes in by the trapezoid rule,
/// so this sample's pressure is <see cref="Advance"/> + <see cref="Feedthrough"/>·flow. Allocates nothing after construction.</remarks>
internal sealed class ModalBank(double rate, int count)
{
    private readonly double[] re = new double[Padded(count)], im = new double[Padded(count)];
    private readonly double[] turnRe = new double[Padded(count)], turnIm = new double[Padded(count)], gain = new double[Padded(count)];
    private double flow;

    /// <summary>Pa of this sample for each m³/s of this sample.</summary>
    public double Feedthrough { get; private set; }

    /// <summary>Silence; the resonances stay.</summary>
    public void Reset()
    {
        Array.Clear(re);
        Array.Clear(im);
        flow = 0;
    }

    /// <summary>Moves the resonances; what sounds in them goes on.</summary>
    /// <param name="hertz">One for each resonance, ascending; those above 0.45 of the rate are left out.</param>
    /// <param name="height">Peak of each, Pa·s/m³.</param>
    /// <param name="quality">Each above ½.</param>
    public void Tune(ReadOnlySpan<double> hertz, ReadOnlySpan<double> height, ReadOnlySpan<double> quality)
    {
        var sum = 0.0;
        for (var n = 0; n < hertz.Length; n++)
        {
            var omega = 2 * Math.PI * hertz[n];
            var loss = omega / (2 * quality[n]);
            var shrink = Math.Exp(-loss / rate);
            var angle = Math.Sqrt((omega * omega) - (loss * loss)) / rate;
            (turnRe[n], turnIm[n]) = (shrink * Math.Cos(angle), shrink * Math.Sin(angle));

            // Twice, for the conjugate.
            gain[n] = hertz[n] < 0.45 * rate ? 2 * height[n] * loss / rate : 0;
            sum += gain[n];
        }

        Feedthrough = sum / 2;
    }

    /// <summary>Goes one sample on.</summary>
    /// <returns>The pressure that would be there if no flow came in now.</returns>
    public double Advance()
    {
        var sum = Vector<double>.Zero;
        var input = new Vector<double>(flow);
        for (var n = 0; n < re.Length; n += Vector<double>.Count)
        {
            var (a, b) = (new Vector<double>(turnRe, n), new Vector<double>(turnIm, n));
            var x = new Vector<double>(re, n) + (input * new Vector<double>(gain, n));
            var y = new Vector<double>(im, n);
            var turned = (a * x) - (b * y);
            turned.CopyTo(re, n);
            ((a * y) + (b * x)).CopyTo(im, n);
            sum += turned;
        }

        return Vector.Sum(sum);
    }

    /// <summary>Takes in this sample's flow, m³/s.</summary>
    public void Feed(double cubicMetresPerSecond) => flow = cubicMetresPerSecond;

    private static int Padded(int count) => (count + Vector<double>.Count - 1) / Vector<double>.Count * Vector<double>.Count;
}
