using Seamwright.Core.Instruments;
using Seamwright.Core.Units;
using Seamwright.VoiceTrial.Measuring;

namespace Seamwright.VoiceTrial.Playing;

/// <summary>Lips that bring a note into tune.</summary>
/// <param name="LipHertz">The lips' own frequency.</param>
/// <param name="Cents">What was left when it was found.</param>
internal readonly record struct Lips(double LipHertz, double Cents);

/// <summary>Finds the lips' frequency for a setting by playing the note over and over, as a player does with the ear.</summary>
internal sealed class Ear(Instrument instrument)
{
    private const double Seconds = 0.6, From = 0.4;
    private const double Enough = 0.2;

    private readonly Player player = new(instrument);

    /// <summary>Notes played so far.</summary>
    public int Tries { get; private set; }

    /// <summary>Mouth pressure of an ordinary note in Pa: 1 kPa at B♭1, 2.5 at B♭3, 3.9 at B♭4 (from memory: kilopascals that rise with
    /// pitch; the exponent is proposed).</summary>
    public static double Breath(double hertz) => 1000 * Math.Pow(hertz / 58.27, 0.65);

    /// <summary>Finds the lips for a setting: a walk upward for the first place where the note crosses its pitch, then halving.</summary>
    /// <returns>Null where the right partial speaks nowhere on the pitch.</returns>
    public Lips? Find(Side side, int partial, Centimetres travel, double pascal)
    {
        var wanted = instrument.Sounding(side, partial, travel).Value;
        (double Ratio, double Cents)? below = null;
        for (var ratio = 0.56; ratio < 1.05; ratio += 0.03)
        {
            var cents = Cents(side, travel, ratio * wanted, pascal, wanted);
            if (cents is { } c && Math.Abs(c) < 150 && below is { } b && b.Cents <= 0 && c > 0)
                return Halve(side, travel, pascal, wanted, b, (ratio, c));
            below = cents is { } d && Math.Abs(d) < 150 ? (ratio, d) : null;
        }

        return null;
    }

    private Lips? Halve(Side side, Centimetres travel, double pascal, double wanted, (double Ratio, double Cents) low, (double Ratio, double Cents) high)
    {
        for (var i = 0; i < 12; i++)
        {
            // Between the straight line and the middle: the curve is smooth, but may be cut by another regime.
            var line = low.Ratio + ((high.Ratio - low.Ratio) * -low.Cents / (high.Cents - low.Cents));
            var ratio = i % 3 == 2 ? (low.Ratio + high.Ratio) / 2 : line;
            if (Cents(side, travel, ratio * wanted, pascal, wanted) is not { } c || Math.Abs(c) > 150) return null;
            if (Math.Abs(c) < Enough) return new(ratio * wanted, c);
            if (c < 0) low = (ratio, c);
            else high = (ratio, c);
        }

        return null;
    }

    private double? Cents(Side side, Centimetres travel, double lipHertz, double pascal, double wanted)
    {
        Tries++;
        var x = player.Play(Seconds, t => new(side, travel, lipHertz, pascal * Math.Min(1, t / 0.02)));
        var tail = x.AsSpan((int)(From * Player.Rate));
        if (Levels.Db(tail) < -70) return null;
        return PeriodMeter.Steady(tail, Player.Rate, wanted / 2.6, wanted * 2.6) is { } hz ? 1200 * Math.Log2(hz / wanted) : null;
    }
}
