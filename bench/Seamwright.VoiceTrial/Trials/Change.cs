using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;
using Seamwright.VoiceTrial.Playing;

namespace Seamwright.VoiceTrial.Trials;

/// <summary>One end of a change.</summary>
/// <param name="Partial">The partial.</param>
/// <param name="Position">Open-horn position.</param>
internal readonly record struct End(int Partial, double Position);

/// <summary>A change from one calibrated note to another: the slide moves by minimum jerk, the lips go over at its middle.</summary>
/// <param name="From">First note.</param>
/// <param name="To">Second note.</param>
/// <param name="Move">Seconds of the slide's movement.</param>
/// <param name="LipTime">Seconds in which the lips go from one partial to the other, round the middle.</param>
/// <param name="Dip">Share of the breath that is left in the middle, 1 for none.</param>
/// <param name="DipWidth">Seconds of the whole dip, a raised cosine.</param>
/// <param name="DipOffset">Seconds by which the dip's middle comes after the slide's.</param>
/// <param name="Lead">Seconds by which the lips go over before the middle.</param>
internal readonly record struct Change(End From, End To, double Move, double LipTime, double Dip = 1, double DipWidth = 0.09, double DipOffset = 0, double Lead = 0)
{
    /// <summary>Middle of the movement, seconds from the beginning.</summary>
    public const double Middle = 1.5;

    public const double Seconds = 3;

    /// <summary>Hz that the instrument says sounds, the partial breaking in the middle.</summary>
    public double Asked(Instrument instrument, double t) =>
        instrument.Sounding(instrument.Open, t < Middle ? From.Partial : To.Partial, Travel(instrument, t)).Value;

    public Centimetres Travel(Instrument instrument, double t)
    {
        var (a, b) = (instrument.TravelAt(From.Position).Value, instrument.TravelAt(To.Position).Value);
        return new(a + ((b - a) * MinimumJerk.Progress((t - Middle + (Move / 2)) / Math.Max(1e-6, Move))));
    }

    /// <summary>The controls, or null where one of the notes does not speak in tune.</summary>
    /// <remarks>On one partial the lips keep their ratio to the asked pitch and the tube's stretch is calibrated at five places of
    /// the slide; across partials both go from one end's figures to the other's in <see cref="LipTime"/>.</remarks>
    public Func<double, Moment>? Controls(Instrument instrument, Ear ear)
    {
        const int Places = 5;
        var (me, open) = (this, instrument.Open);
        double[] scales = new double[Places];
        var (first, last) = (Breath(0), Breath(Seconds));
        if (ear.Find(open, From.Partial, Travel(instrument, 0), first) is not { } a) return null;
        var b = a;
        if (From.Partial != To.Partial)
        {
            if (ear.Find(open, To.Partial, Travel(instrument, Seconds), last) is not { } found) return null;
            b = found;
        }

        var (start, end) = (Travel(instrument, 0).Value, Travel(instrument, Seconds).Value);
        for (var i = 0; i < Places && From.Partial == To.Partial; i++)
        {
            var travel = new Centimetres(start + ((end - start) * i / (Places - 1)));
            var pascal = Ear.Breath(instrument.Sounding(open, From.Partial, travel).Value);
            if (ear.Stretch(open, From.Partial, travel, a.LipRatio, pascal, i == 0 ? a.Scale : scales[i - 1]) is not { } s) return null;
            scales[i] = s.Scale;
        }

        return t =>
        {
            var travel = me.Travel(instrument, t);
            var lips = me.From.Partial == me.To.Partial ? 0 : MinimumJerk.Progress((t - Middle + me.Lead + (me.LipTime / 2)) / me.LipTime);
            var here = instrument.Sounding(open, me.From.Partial, travel).Value;
            var there = instrument.Sounding(open, me.To.Partial, travel).Value;
            var lip = Between(a.LipRatio * here, b.LipRatio * there, lips);
            var scale = me.From.Partial == me.To.Partial ? Along(scales, (travel.Value - start) / (end - start)) : Between(a.Scale, b.Scale, lips);
            return new(open, travel, lip, Ear.Attack(me.Touch(t) * Between(first, last, MinimumJerk.Progress(((t - Middle + me.Lead) / 0.2) + 0.5)), t), scale);
        };

        double Breath(double t) => Ear.Breath(me.Asked(instrument, t));
    }

    private double Touch(double t)
    {
        var x = (t - Middle - DipOffset) / DipWidth;
        return Math.Abs(x) >= 0.5 ? 1 : 1 - ((1 - Dip) * 0.5 * (1 + Math.Cos(2 * Math.PI * x)));
    }

    private static double Between(double a, double b, double share) => a * Math.Pow(b / a, share);

    private static double Along(double[] values, double share)
    {
        var x = Math.Clamp(share, 0, 1) * (values.Length - 1);
        var i = Math.Min((int)x, values.Length - 2);
        return values[i] + ((x - i) * (values[i + 1] - values[i]));
    }
}
