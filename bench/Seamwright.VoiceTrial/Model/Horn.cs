using Seamwright.Core.Instruments;
using Seamwright.Core.Units;

namespace Seamwright.VoiceTrial.Model;

/// <summary>The air column as a bank of resonances: their frequencies from the instrument, their heights and widths from one smooth curve.</summary>
/// <remarks>
/// Each resonance lies below what the instrument says sounds by 1.4 half widths of its peak, because a lip that is
/// blown open sounds above its resonance. Players do so by about 1.1 %, 19 cents (Boutin, Fletcher, Smith and Wolfe, J. Acoust. Soc.
/// Am. 137 (2015) 1195, abstract read); this lip needs more, 67 cents at B♭1, 34 at B♭3, 24 at B♭4. Heights and widths are from
/// memory of measured trombone curves (Backus, J. Acoust. Soc. Am. 60 (1976) 470; Campbell, Gilbert and Myers, The Science of Brass
/// Instruments, 2021): 9 to 15 times the bore's own impedance, quality 18 at 58 Hz and 36 at 233 Hz. A real horn's first resonance
/// lies far below the pedal; here it is the instrument's own first partial, so pedals speak more easily than they should.
/// </remarks>
internal static class Horn
{
    /// <summary>Resonances kept: the 32nd of the longest tube (28 Hz) lies at 0.9 kHz.</summary>
    public const int Count = 32;

    /// <summary>ρc/S of a bore of 6.9 mm radius, Pa·s/m³.</summary>
    public const double BoreImpedance = 1.2 * 343 / (Math.PI * 6.9e-3 * 6.9e-3);

    /// <summary>Half widths of the peak by which a note is meant to sound above its resonance. Proposed; what it misses, the ear's
    /// stretch of the tube mends.</summary>
    private const double Pull = 1.4;

    /// <summary>Resonance frequencies in Hz.</summary>
    public static void Fill(Instrument instrument, Side side, Centimetres travel, double scale, Span<double> hertz)
    {
        for (var n = 1; n <= hertz.Length; n++)
        {
            var sounds = instrument.Sounding(side, n, travel).Value;
            hertz[n - 1] = scale * sounds / (1 + (Pull / (2 * Quality(sounds))));
        }
    }

    /// <summary>Quality factor: losses at the wall (as √f) and at the bell.</summary>
    public static double Quality(double hertz) => 1 / ((1 / (2.4 * Math.Sqrt(hertz))) + (Fourth(hertz / 900) / 20));

    /// <summary>Height of a peak, Pa·s/m³: a plain tube's residue (bore impedance · c/L, where c/L is twice the fundamental), lifted up
    /// to four times round the cup's resonance near 450 Hz and dying above 1.1 kHz, over half the width of the peak.</summary>
    public static double Height(double hertz, double fundamental, double quality)
    {
        var cup = Math.Log2(hertz / 450);
        var lift = (1 + (3 * Math.Exp(-cup * cup))) / (1 + Fourth(hertz / 1100));
        return BoreImpedance * 2 * fundamental * lift * quality / (Math.PI * hertz);
    }

    private static double Fourth(double x) => x * x * (x * x);
}
