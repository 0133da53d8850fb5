using Seamwright.Core.Units;

namespace Seamwright.Core.Listening;

/// <summary>Reads what one change does to the level: the dip, the silence in it, and how far the new note exceeds itself.</summary>
/// <param name="roomDb">Level of the room's own noise, dB.</param>
/// <param name="decay">How the room answers; null where that is unknown.</param>
internal sealed class LevelMeter(double roomDb, Decay? decay)
{
    private const double BumpWithin = 0.08;
    private const double LeastDip = 1;
    private const double LevelDoubt = 1;
    private const double OvershootDoubt = 0.35;
    private const double DepthDoubt = 5;

    /// <summary>Adds depth, width, silence and overshoot, each with what is not known of it.</summary>
    /// <param name="heard">With its resolution.</param>
    /// <param name="curve">Level through the change.</param>
    /// <param name="before">Level of the first note, dB.</param>
    /// <param name="b">The second note.</param>
    /// <param name="dip">As fitted; null where there is none.</param>
    /// <param name="turn">When one note gives way to the other, seconds.</param>
    public HeardChange Add(HeardChange heard, ChangeCurve curve, double before, SteadyNote b, DipFit.Result? dip, double turn)
    {
        var over = Overshoot(curve, b, dip?.Centre ?? turn);
        heard = heard with { Overshoot = new(over), OvershootBounds = Around(over, 0, OvershootDoubt, 0, x => new Decibels(x)) };
        if (dip is not { } d) return heard with { Dip = new(0), EarDip = new(0), Gap = Seconds.Zero, EarGap = Seconds.Zero, Below10 = Seconds.Zero };
        var quieter = Math.Min(before, b.Db);
        var bottom = curve.Bottom(d.Shape.Centre - d.Shape.Reach, d.Shape.Centre + d.Shape.Reach);
        heard = WithSilence(heard, curve, d, quieter, bottom) with
        {
            Dip = new(d.Depth),
            DipBounds = DepthAround(d),
            EarDip = new(Math.Max(0, quieter - Under(curve.Db[bottom]))),
            Below10 = new(curve.Below(Over(quieter - 10), bottom)),
            Below10Interval = Below10(curve, d, quieter, bottom),
        };
        if (d.Depth < LeastDip) return heard;
        var window = heard.Resolution!.Value.Value;
        return heard with
        {
            DipWidth = new(d.HalfWidth),
            DipWidthBounds = Around(d.HalfWidth, d.WidthDeviation, (0.05 * window) + (0.4 * RoomTime), 0.02 * d.HalfWidth, x => new Seconds(x)),
            DipCentre = new(d.Centre),
            DipCentreBounds = Around(d.Centre, d.CentreDeviation, (0.04 * window) + (0.3 * RoomTime), 0, x => new Seconds(x), double.NegativeInfinity),
        };
    }

    // Were the dip deeper or shallower as a whole, the same readings would lie so much further down.
    private (Seconds Low, Seconds High) Below10(ChangeCurve curve, DipFit.Result d, double quieter, int bottom)
    {
        const double Limit = 10;
        var depth = DepthAround(d);
        Seconds Down(double db) => new(curve.Below(Over(quieter - db), bottom));
        return (Down(Math.Max(Limit + LevelDoubt, Limit * d.Depth / Math.Max(depth.Low.Value, 1e-3))),
            Down(Math.Min(Limit - LevelDoubt, Limit * d.Depth / depth.High.Value)));
    }

    private Bounds<Decibels> DepthAround(DipFit.Result d) =>
        Around(d.Depth, d.DepthDeviation, 0.3 + (RoomDoubt * DepthDoubt), (0.03 + (0.1 * RoomDoubt)) * d.Depth, x => new Decibels(x));

    // Where noise or the room's own sound lies less than 20 dB below the notes, silence cannot be seen, only how long it may have lasted.
    private HeardChange WithSilence(HeardChange heard, ChangeCurve curve, DipFit.Result d, double quieter, int bottom)
    {
        const double NearFloor = 3;
        var silent = curve.Below(Over(quieter - 20), bottom);
        var floor = Math.Max(roomDb, decay is { Matters: true } r ? quieter + (10 * Math.Log10(r.Share)) - 6 : roomDb);
        if (floor + NearFloor > quieter - 20)
        {
            var hidden = Math.Max(silent, curve.Below(Math.Max(floor, quieter - 20) + (2 * NearFloor), bottom));
            var sure = Math.Min(silent, curve.Below(Math.Max(roomDb, quieter - 20), bottom));
            return heard with
            {
                Gap = new(silent),
                EarGap = new(silent),
                GapBounds = new(new(sure), new(hidden)),
                EarGapInterval = (new(sure), new(hidden)),
            };
        }

        return heard with
        {
            Gap = new(silent > 0 ? d.Below20 : 0),
            EarGap = new(silent),
            EarGapInterval = (new(curve.Below(Over(quieter - 20 - LevelDoubt), bottom)), new(curve.Below(Over(quieter - 20 + LevelDoubt), bottom))),
            GapBounds = GapAround(d),
        };
    }

    // The tone alone at a level sounds so loud together with the room's noise, and the other way round.
    private double Over(double db) => Energy.ToDb(Math.Pow(10, db / 10) + Math.Pow(10, roomDb / 10));

    private double Under(double db)
    {
        var power = Math.Pow(10, db / 10);
        return Energy.ToDb(Math.Max(power - Math.Pow(10, roomDb / 10), 0.1 * power));
    }

    // How much of a decibel and of time the room's tail leaves in doubt: it is noise-like, and its model only a mean.
    private double RoomDoubt => decay is { Matters: true } d ? Math.Sqrt(d.Share) : 0;

    public double RoomTime => decay is { Matters: true } d ? Math.Sqrt(d.Share) * 0.1 * d.Seconds60 : 0;

    // A 90 % interval: what the fit does not know, and what no fit of this kind knows.
    private static Bounds<T> Around<T>(double value, double deviation, double floor, double share, Func<double, T> unit, double least = 0)
    {
        var reach = Bounding.Reach(deviation, floor, share);
        return new(unit(Math.Max(least, value - reach)), unit(value + reach));
    }

    private static Bounds<Seconds>? GapAround(DipFit.Result d) =>
        d.Below20 > 0 ? Around(d.Below20, d.WidthDeviation, 0.002, 0.05 * d.Below20, x => new Seconds(x)) : null;

    private static double Overshoot(ChangeCurve curve, SteadyNote b, double from)
    {
        var highest = b.Db;
        for (var i = 0; i < curve.Count; i++)
        {
            var t = curve.Time(i);
            if (t >= from && t <= from + BumpWithin + 0.04) highest = Math.Max(highest, curve.Db[i]);
        }

        return highest - b.Db;
    }
}
