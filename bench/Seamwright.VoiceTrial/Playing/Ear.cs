using Seamwright.Core.Instruments;
using Seamwright.Core.Units;
using Seamwright.VoiceTrial.Measuring;

namespace Seamwright.VoiceTrial.Playing;

/// <summary>How a note must be played to be in tune.</summary>
/// <param name="LipRatio">The lips' own frequency over the note's.</param>
/// <param name="Scale">What all resonances are multiplied by.</param>
/// <param name="Cents">What was left when it was found.</param>
internal readonly record struct Tuned(double LipRatio, double Scale, double Cents);

/// <summary>Calibrates the voice for a setting by playing the note over and over, as a player does with the ear.</summary>
/// <remarks>First the lips: of ratios from 0.60 to 1.00 the one that speaks soon and near its pitch, neighbours speaking too where there
/// is such a one. Then the tube: stretched by secants until less than 0.2 cents are left. Lips alone would need a place where the
/// note crosses its pitch while it speaks; 21 of 50 notes had none.</remarks>
internal sealed class Ear(Instrument instrument)
{
    private const double Enough = 0.2, LowestRatio = 0.60, RatioStep = 0.04;
    private const int Ratios = 11, MostRatios = 4;

    private readonly Performer player = new(instrument);

    /// <summary>Notes played so far.</summary>
    public int Tries { get; private set; }

    /// <summary>Mouth pressure of an ordinary note in Pa: 1.5 kPa at B♭1, 3.7 at B♭3, 5.8 at B♭4 (from memory: kilopascals that rise
    /// with pitch; the figures are proposed, chosen so that half and twice as much speak too).</summary>
    public static double Breath(double hertz) => 1500 * Math.Pow(hertz / 58.27, 0.65);

    /// <summary>Breath of a tongued beginning: there within 3 ms.</summary>
    public static double Attack(double pascal, double t) => pascal * Math.Clamp(t / 0.003, 0, 1);

    /// <summary>Calibrates one setting at one breath.</summary>
    /// <returns>Null where the right partial speaks nowhere.</returns>
    public Tuned? Find(Side side, int partial, Centimetres travel, double pascal)
    {
        var wanted = instrument.Sounding(side, partial, travel).Value;
        var heard = new Heard?[Ratios];
        for (var i = 0; i < Ratios; i++) heard[i] = Right(Listen(side, travel, LowestRatio + (i * RatioStep), 1, pascal, wanted, 0.8), partial);
        var best = Enumerable.Range(0, Ratios).Where(i => heard[i] is not null)
            .OrderBy(i => (i > 0 && heard[i - 1] is null) || (i < Ratios - 1 && heard[i + 1] is null))
            .ThenBy(i => heard[i]!.Value.Speaks + (0.001 * Math.Abs(heard[i]!.Value.Cents))).Take(MostRatios);
        return best.Select(i => Stretch(side, partial, travel, LowestRatio + (i * RatioStep), pascal, Math.Pow(2, -heard[i]!.Value.Cents / 1200)))
            .FirstOrDefault(t => t is not null);
    }

    /// <summary>Calibrates the tube alone, the lips given.</summary>
    public Tuned? Stretch(Side side, int partial, Centimetres travel, double ratio, double pascal, double scale)
    {
        var wanted = instrument.Sounding(side, partial, travel).Value;
        (double Log, double Cents)? before = null;
        var log = Math.Log2(scale) * 1200;
        for (var i = 0; i < 10; i++)
        {
            if (Right(Listen(side, travel, ratio, Math.Pow(2, log / 1200), pascal, wanted, 1.2), partial) is not { } h) return null;
            if (Math.Abs(h.Cents) < Enough) return new(ratio, Math.Pow(2, log / 1200), h.Cents);

            // The secant, its slope kept between a quarter and one: the lips hold back what the tube gives.
            var slope = before is { } b && Math.Abs(log - b.Log) > 0.01 ? Math.Clamp((h.Cents - b.Cents) / (log - b.Log), 0.25, 1) : 0.7;
            before = (log, h.Cents);
            log -= h.Cents / slope;
        }

        return null;
    }

    // Nearer to its own partial than half way to the next one.
    private static Heard? Right(Heard? heard, int partial) =>
        heard is { } h && Math.Abs(h.Cents) < 0.45 * 1200 * Math.Log2((partial + 1.0) / partial) ? heard : null;

    // The lips follow the note, not the stretched tube: what is wanted is the pitch.
    private Heard? Listen(Side side, Centimetres travel, double ratio, double scale, double pascal, double wanted, double seconds)
    {
        Tries++;
        var x = player.Play(seconds, t => new(side, travel, ratio * wanted, Attack(pascal, t), scale));
        var tail = x.AsSpan((int)(0.65 * x.Length));
        if (Levels.Db(tail) < -90) return null;
        if (PeriodMeter.Steady(tail, Performer.Rate, wanted / 2.6, wanted * 2.6) is not { } hz) return null;
        return new(1200 * Math.Log2(hz / wanted), Levels.SpeaksAfter(x, tail, wanted, Performer.Rate));
    }

    private readonly record struct Heard(double Cents, double Speaks);
}
