namespace Seamwright.VoiceTrial.Model;

/// <summary>From the wave that leaves the mouthpiece to what is heard: it steepens on its way, and the bell lets the highs out.</summary>
/// <remarks>Steepening as a delay that gets shorter with pressure (after Msallam, Dequidt, Caussé and Tassart, Acustica 86 (2000), from
/// memory): (γ+1)/(2γ)·p/p₀ · L/c, over about 1.5 m of cylindrical bore, read by straight lines. Radiation as a second-order high-pass
/// at 700 Hz, near a trombone bell's cut-off (from memory).</remarks>
internal sealed class Bell
{
    private const double CutOff = 700, SteepMetres = 1.5, Gamma = 1.4, Atmosphere = 101_325;
    private const int Length = 256;

    private readonly double[] line = new double[Length];
    private readonly double samplesPerPascal, centre;
    private readonly double b, a1, a2;
    private double x1, x2, y1, y2;
    private int at;

    public Bell(double rate)
    {
        samplesPerPascal = (Gamma + 1) / (2 * Gamma) / Atmosphere * SteepMetres / 343 * rate;
        centre = Length / 2;
        var k = Math.Tan(Math.PI * CutOff / rate);
        var norm = 1 / (1 + (Math.Sqrt(2) * k) + (k * k));
        (b, a1, a2) = (norm, 2 * ((k * k) - 1) * norm, (1 - (Math.Sqrt(2) * k) + (k * k)) * norm);
    }

    /// <summary>Samples by which the sound comes later than the lips.</summary>
    public double Delay => centre;

    public void Reset()
    {
        Array.Clear(line);
        (x1, x2, y1, y2, at) = (0, 0, 0, 0, 0);
    }

    /// <summary>One sample, Pa in and out.</summary>
    public double Advance(double pressure)
    {
        line[at] = pressure;

        // What arrives now left the sooner the lower its pressure: the delay is looked up with the pressure half way along.
        var middle = line[(at - (Length / 2)) & (Length - 1)];
        var delay = Math.Clamp(centre - (samplesPerPascal * middle), 1, Length - 2);
        var whole = (int)delay;
        var part = delay - whole;
        var (near, far) = (line[(at - whole) & (Length - 1)], line[(at - whole - 1) & (Length - 1)]);
        at = (at + 1) & (Length - 1);
        var x = near + (part * (far - near));
        var y = (b * (x - (2 * x1) + x2)) - (a1 * y1) - (a2 * y2);
        (x2, x1, y2, y1) = (x1, x, y1, y);
        return y;
    }
}
