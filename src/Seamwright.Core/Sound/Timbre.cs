namespace Seamwright.Core.Sound;

/// <summary>How strong each harmonic of a trombone's tone is.</summary>
internal static class Timbre
{
    public const int Most = BrassSpectrum.Most;

    public static int Fill(double frequency, double levelDb, double rate, Span<double> amplitudes) =>
        BrassSpectrum.Fill(frequency, levelDb, rate, amplitudes);
}
