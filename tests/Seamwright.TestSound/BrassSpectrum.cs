namespace Seamwright.TestSound;

/// <summary>How strong each harmonic of a brass tone is.</summary>
/// <remarks>One envelope over frequency: the bell radiates lows badly (second order below 350 Hz, so the fundamental of a low note is
/// far weaker than its third to eighth harmonic), and the lips excite highs the more the louder they play (fourth order above
/// 450 Hz·2^(L/10 dB)). Chosen so that the weighted mean harmonic number √(Σk²A²/ΣA²) of an ordinary note falls from 7–8 at
/// B♭1 to about 2 at C4; proposed defaults, not a model of the instrument.</remarks>
internal static class BrassSpectrum
{
    /// <summary>Harmonics at most; at B♭1 the 64th lies at 3.7 kHz, 70 dB down.</summary>
    public const int Most = 64;

    private const double BellHz = 350, LipHz = 450, BrightDb = 10;

    // No brass tone has anything to hear above this that the model could claim to know.
    private const double HighestHz = 9_000;

    /// <summary>Peak amplitudes for a tone whose root mean square is 1: Σ a²/2 = 1.</summary>
    /// <param name="frequency">Of the first harmonic, Hz.</param>
    /// <param name="levelDb">Against an ordinary note; brightness is held outside −30 to +12.</param>
    /// <param name="rate">Samples a second: harmonics fade out from 0.40 to 0.45 of it.</param>
    /// <param name="amplitudes"><see cref="Most"/> places, filled from the first harmonic.</param>
    /// <returns>How many are not 0.</returns>
    public static int Fill(double frequency, double levelDb, double rate, Span<double> amplitudes)
    {
        var lip = LipHz * Math.Pow(2, Math.Clamp(levelDb, -30, 12) / BrightDb);
        var end = Math.Min(HighestHz, 0.45 * rate);
        var count = Math.Clamp((int)(end / frequency), 1, Most);
        var power = 0.0;
        for (var k = 1; k <= count; k++)
        {
            var a = Envelope(k * frequency, lip) * Math.Clamp((end - (k * frequency)) / (0.1 * end), 0, 1);
            amplitudes[k - 1] = a;
            power += a * a / 2;
        }

        amplitudes[count..].Clear();
        var scale = power > 0 ? 1 / Math.Sqrt(power) : 0;
        for (var k = 0; k < count; k++) amplitudes[k] *= scale;
        return count;
    }

    private static double Envelope(double hz, double lip)
    {
        var low = hz / BellHz * (hz / BellHz);
        var high = hz / lip * (hz / lip);
        return low / (1 + low) / (1 + (high * high));
    }
}
