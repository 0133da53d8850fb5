namespace Seamwright.Core.Sound;

/// <summary>How strong each harmonic of a trombone's tone is.</summary>
/// <remarks>One envelope over frequency, whatever the note: the bell radiates lows badly (second order below 250 Hz, so the
/// fundamental of a low note lies 20 dB under its fourth harmonic), and the louder the tone the higher it reaches (fourth order above
/// 1.8 kHz·2^(L/10 dB), L against mezzo-forte). Fitted by least squares to the half-octave bands of 21 single notes of one orchestral
/// player, E2 to B♭4, pianissimo, mezzo-forte and fortissimo taken as −12, 0 and +9 dB (Philharmonia Orchestra sound samples, CC BY-SA
/// 3.0): what is left is 4.7 dB (root mean square) at mezzo-forte, 5.2 at fortissimo, 6.3 at pianissimo, most of it the wiggle of
/// single harmonics.</remarks>
internal static class Timbre
{
    /// <summary>Harmonics at most; at B♭1 the 96th lies at 5.6 kHz.</summary>
    public const int Most = 96;

    private const double BellHz = 250, LipHz = 1780, BrightDb = 10;

    // Nothing above this is claimed to be known.
    private const double HighestHz = 10_000;

    /// <summary>Peak amplitudes for a tone whose root mean square is 1: Σ a²/2 = 1.</summary>
    /// <param name="frequency">Of the first harmonic, Hz.</param>
    /// <param name="levelDb">Against mezzo-forte; brightness is held outside −30 to +12.</param>
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
        var high = 1 + (hz / lip * (hz / lip));
        return low / (1 + low) / (high * high);
    }
}
