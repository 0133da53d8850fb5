namespace Seamwright.Core.Sound;

/// <summary>The rush of air: what streams through the lips and becomes no tone.</summary>
/// <param name="Air">Amplitude in a held tone, against it.</param>
/// <param name="Hiss">Amplitude that is added where all the air hisses, against the tone it would have made.</param>
internal readonly record struct Rush(double Air, double Hiss)
{
    // Where the lips let go, the air that would have made tone hisses: dB against the tone.
    private const double HissDb = -36;

    // More than half as much again as an even blow rushes no louder.
    private const double MostDrive = 1.5;

    /// <summary>As the settings want it.</summary>
    public static Rush Of(VoiceSettings settings) => new(Amplitude(settings.Air.Value), Amplitude(Math.Min(HissDb, settings.Air.Value + 6)));

    /// <summary>Amplitude now, against an ordinary note's root mean square.</summary>
    /// <param name="power">Of all tone, against an ordinary note.</param>
    /// <param name="drive">Air through the lips against an even blow, 0 or more.</param>
    /// <param name="breath">Power of the note this breath would hold, against an ordinary note.</param>
    public double At(double power, double drive, double breath) =>
        Math.Sqrt(breath) * Math.Min(drive, MostDrive) * (Air + (Hiss * Math.Max(0, 1 - (power / breath))));

    private static double Amplitude(double db) => Math.Pow(10, db / 20);
}
