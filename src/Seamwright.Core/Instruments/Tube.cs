using Seamwright.Core.Units;

namespace Seamwright.Core.Instruments;

/// <summary>The geometry every setting is computed from: an air column whose slide counts twice.</summary>
public static class Tube
{
    /// <summary>Effective length of the column whose first partial is <paramref name="fundamental"/>: c / (2·f).</summary>
    /// <param name="speedOfSound">m/s.</param>
    /// <param name="fundamental">First partial, slide closed.</param>
    public static Centimetres LengthOf(double speedOfSound, Hertz fundamental) =>
        Centimetres.FromMetres(speedOfSound / (2 * fundamental.Value));

    /// <summary>Slide travel that lowers a column by so many semitones: L·(2^(k/12) − 1)/2, halved because the slide is double.</summary>
    /// <param name="length">Effective length with the slide closed.</param>
    /// <param name="semitones">Any number; negative would be further in than closed.</param>
    public static Centimetres TravelFor(Centimetres length, double semitones) =>
        new(length.Value * (Math.Pow(2, semitones / 12) - 1) / 2);

    /// <summary>The inverse of <see cref="TravelFor"/>.</summary>
    public static double SemitonesAt(Centimetres length, Centimetres travel) =>
        12 * Math.Log2(1 + (2 * travel.Value / length.Value));

    /// <summary>How much a millimetre of slide changes the pitch at a travel, in cents (positive number; outward is flatter):
    /// 1200/ln 2 · 2/(L + 2x).</summary>
    public static double CentsPerMillimetre(Centimetres length, Centimetres travel) =>
        1200 / Math.Log(2) * 2 / (length.Value + (2 * travel.Value)) / 10;

    /// <summary>Pitch of a partial against the fourth, as if both had one fundamental: 1200·log2(4·f_n/(n·f_4)).</summary>
    /// <remarks>The equivalent fundamental pitch of Bilbao and Chick, J. Acoust. Soc. Am. 134 (2013) 3860; 0 for a harmonic series.</remarks>
    public static Cents EquivalentFundamentalPitch(Hertz fn, int n, Hertz fourth) =>
        new(1200 * Math.Log2(4 * fn.Value / (n * fourth.Value)));

    /// <summary>How far the n-th harmonic lies from the nearest equal-tempered semitone above the fundamental.</summary>
    /// <param name="n">1 or more.</param>
    public static Cents HarmonicDeviation(int n)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(n);
        var semitones = 12 * Math.Log2(n);
        return new(100 * (semitones - Math.Round(semitones)));
    }

    /// <summary>Semitones of the equal-tempered note nearest to the n-th harmonic, above the fundamental.</summary>
    public static int NearestSemitone(int n)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(n);
        return (int)Math.Round(12 * Math.Log2(n));
    }
}
