namespace Seamwright.Audio.Writing;

/// <summary>The sample rates and bit rates of MPEG audio, layer III (ISO/IEC 11172-3, 2.4.2.3; 13818-3, 2.4.2.3; and their common
/// extension to 8–12 kHz).</summary>
internal static class Mp3Rates
{
    private static readonly int[] Samples = [8000, 11025, 12000, 16000, 22050, 24000, 32000, 44100, 48000];
    private static readonly int[] Full = [32, 40, 48, 56, 64, 80, 96, 112, 128, 160, 192, 224, 256, 320];
    private static readonly int[] Half = [8, 16, 24, 32, 40, 48, 56, 64, 80, 96, 112, 128, 144, 160];

    /// <summary>Whether a bit rate stands in any of the tables.</summary>
    public static bool IsKnown(int kilobits) => Full.Contains(kilobits) || Half.Contains(kilobits);

    /// <summary>The sample rate itself, or the one that is written in its place: the lowest above it, 48 kHz at most, and 44.1 kHz for its doubles.</summary>
    public static int Nearest(int rate) => rate > 48000 ? (rate % 44100 == 0 ? 44100 : 48000) : Samples.First(s => s >= rate);

    /// <summary>The highest bit rate that a sample rate knows, up to the one asked for.</summary>
    public static int Possible(int rate, int kilobits) =>
        (rate >= 32000 ? Full : rate >= 16000 ? Half : Half.Where(k => k <= 64)).Where(k => k <= kilobits).DefaultIfEmpty(rate >= 32000 ? 32 : 8).Max();
}
