using Seamwright.Core.Units;

namespace Seamwright.Core.Listening;

/// <summary>Reads what one change does to the level: the dip, the silence in it, and how far the new note exceeds itself.</summary>
/// <param name="room">How the room answers.</param>
/// <param name="ear">The ear's temporal window, seconds.</param>
internal sealed class LevelMeter(RoomAnswer room, double ear)
{
    private const double BumpWithin = 0.08;

    // Two notes of different level pass into one another over 30 ms: the louder one before is no burst of the one after.
    private const double HalfBlend = 0.015;
    private const double LeastDip = 1;
    private const double LevelDoubt = 1;
    private const double OvershootDoubt = 0.35;

    // Seconds that moments are moved by in a room of all returns and one second; set on ground truth of 0.4 and 0.8 s.
    private const double Lingers = 0.045;

    // Standard deviations of what is read off the level's own curve: dB, the same in proportion to the depth, the room's noise in dB, the depth that
    // the window hides (how long it must be is not known where nothing repeats), and moments in proportion to the window.
    private const double ReadingDoubt = 0.3;
    private const double ReadingShare = 0.03;
    private const double NoiseDoubt = 1;
    private const double HiddenDoubt = 0.2;
    private const double TimeDoubt = 0.12;
    private readonly double roomDb = room.NoiseDb;
    private readonly Decay? decay = room.Decay;

    /// <summary>Adds depth, width, silence and overshoot, each with what is not known of it.</summary>
    /// <param name="heard">With its resolution.</param>
    /// <param name="curve">Level through the change.</param>
    /// <param name="a">The first note.</param>
    /// <param name="b">The second note.</param>
    /// <param name="dip">As fitted; null where there is none.</param>
    /// <param name="turn">When one note gives way to the other, seconds.</param>
    public HeardChange Add(HeardChange heard, ChangeCurve curve, SteadyNote a, SteadyNote b, DipFit.Result? dip, double turn)
    {
        var lost = LostIn(a, b);
        var (over, tone) = Overshoot(curve, a, b, dip is { Depth: >= LeastDip } ? dip : null, turn);
        (over, tone) = (WithoutRoom(over), WithoutRoom(tone));
        heard = heard with { Overshoot = new(over), OvershootBounds = OvershootAround(over, tone, b, lost + (over * HiddenOf(heard.Resolution!.Value.Value))) };
        if (dip is not { } d)
        {
            heard = heard with { Dip = new(0), EarDip = new(0), Gap = Seconds.Zero, EarGap = Seconds.Zero, Below10 = Seconds.Zero };
            return lost > 0 || room.Echo is not null ? heard with { DipBounds = Widened(new(new(0), new(0)), 0, lost) } : heard;
        }

        var quieter = Math.Min(a.Db, b.Db);
        var bottom = curve.Bottom(d.Shape.Centre - d.Shape.Reach, d.Shape.Centre + d.Shape.Reach);
        var depth = DepthAround(d, a, turn, lost);
        heard = WithSilence(heard, curve, d, a.Db, depth.High.Value, quieter, FlickerOf(a, b), bottom, lost) with
        {
            Dip = new(d.Depth),
            DipBounds = depth,
            EarDip = new(Math.Max(0, quieter - Under(curve.Db[bottom]))),
            EarDipBounds = IsDry ? EarDepth(heard, curve.Db[bottom], quieter, d, depth.High.Value, FlickerOf(a, b), lost) : null,
            Below10 = new(curve.Below(Over(quieter - 10), bottom)),
            Below10Interval = IsDry ? Times(curve, quieter - 10, LevelReach(FlickerOf(a, b)), bottom, lost) : Below10(curve, d, depth, quieter, bottom),
        };
        if (d.Depth < LeastDip) return heard;
        var window = heard.Resolution!.Value.Value;
        return heard with
        {
            DipWidth = new(d.HalfWidth),
            DipWidthBounds = Around(d.HalfWidth, d.WidthDeviation, (0.05 * window) + (0.56 * RoomTime), 0.02 * d.HalfWidth, x => new Seconds(x)),
            DipCentre = new(d.Centre),
            DipCentreBounds = Around(d.Centre, d.CentreDeviation, (0.04 * window) + (0.42 * RoomTime), d.Pull, x => new Seconds(x), double.NegativeInfinity),
        };
    }

    // In a room that adds nothing of its own what the ear's window shows is all there is to know: no model of the dip comes between.
    private bool IsDry => room.Echo is null && decay is not { Matters: true };

    private static double FlickerOf(SteadyNote a, SteadyNote b) => (a.Db < b.Db ? a : b).Flicker;

    // The quieter neighbour has no one level: it is known no better than it keeps.
    private static double LevelReach(double flicker) => Bounding.Reach(flicker, ReadingDoubt, 0);

    // On low notes the window is longer than the ear's and shows a short dip less deep than it is heard: no deeper than the ear would show the dip behind it
    // at its deepest.
    private Bounds<Decibels> EarDepth(HeardChange heard, double lowest, double quieter, DipFit.Result d, double deepest, double flicker, double lost)
    {
        var (power, noise) = (Math.Pow(10, lowest / 10), Math.Pow(10, roomDb / 10));
        var factor = Math.Pow(10, NoiseDoubt / 10);
        double Depth(double of) => quieter - Energy.ToDb(Math.Max(power - (of * noise), Math.Pow(10, (quieter - Dips.Deepest) / 10)));
        var inEar = InEar(d.Shape.Main);
        var hidden = HiddenDoubt * Math.Max(0, inEar - (quieter - lowest));
        var reach = Bounding.Reach(Math.Max(flicker, hidden), ReadingDoubt, ReadingShare * (quieter - lowest));
        var behind = heard.Doubts.Contains(Doubt.LowNote) ? InEar(d.Shape.Main with { Depth = deepest }) : 0;
        return new(new(Math.Max(0, Depth(1 / factor) - reach)), new(Math.Max(behind, Math.Max(0, Depth(factor)) + reach + lost)));
    }

    // Most that the ear's own window shows of a dip, dB.
    private double InEar(DipShape dip)
    {
        const double Step = 0.0005;
        var half = (int)Math.Round(ear / 2 / Step);
        double[] power = [.. Enumerable.Range(-half, (int)((dip.End - dip.Start) / Step) + (2 * half) + 1).Select(i => Math.Pow(10, dip.At(dip.Start + (i * Step)) / 10))];
        var (sum, least) = (power.AsSpan(0, Math.Min(power.Length, (2 * half) + 1)).ToArray().Sum(), double.MaxValue);
        for (var i = (2 * half) + 1; i < power.Length; i++)
        {
            least = Math.Min(least, sum);
            sum += power[i] - power[i - (2 * half) - 1];
        }

        return -Energy.ToDb(Math.Min(least, sum) / ((2 * half) + 1));
    }

    // How long the level lies below a limit, were that so much lower or higher; the moments of passing are not known exactly either.
    private (Seconds Low, Seconds High) Times(ChangeCurve curve, double limit, double reach, int bottom, double lost)
    {
        var (shorter, longer) = (curve.Below(Over(limit - reach), bottom), curve.Below(Over(limit + reach + lost), bottom));
        var passing = Bounding.Reach(0, TimeDoubt * curve.Window[bottom], 0);
        return (new(Math.Max(0, shorter - passing)), new(longer > 0 ? longer + passing : 0));
    }

    // Were the dip deeper or shallower as a whole, the same readings would lie so much further down.
    private (Seconds Low, Seconds High) Below10(ChangeCurve curve, DipFit.Result d, Bounds<Decibels> depth, double quieter, int bottom)
    {
        const double Limit = 10;
        Seconds Down(double db) => new(curve.Below(Over(quieter - db), bottom));
        return (Down(Math.Max(Limit + LevelDoubt, Limit * d.Depth / Math.Max(depth.Low.Value, 1e-3))),
            Down(Math.Min(Limit - LevelDoubt, Limit * d.Depth / depth.High.Value)));
    }

    private Bounds<Decibels> DepthAround(DipFit.Result d, SteadyNote a, double turn, double lost)
    {
        var around = Around(d.Depth, d.DepthDeviation, 0.3, 0.03 * d.Depth, x => new Decibels(x));
        if (decay is { Matters: true } rings)
        {
            var (low, high) = new FilledDip(rings, a.Partials, d.HalfWidth, Math.Abs(d.Centre - turn) > d.HalfWidth).Around(d.Depth);
            around = new(new(Math.Min(around.Low.Value, low)), new(Math.Max(around.High.Value, high)));
        }

        return Widened(around, d.Depth, lost);
    }

    private Bounds<Decibels> Widened(Bounds<Decibels> around, double depth, double lost)
    {
        var (low, high) = room.Echo?.Meeting.Depth(depth, Dips.Deepest) ?? (depth, depth);
        return new(new(Math.Min(around.Low.Value, low)), new(Math.Max(around.High.Value, high) + lost));
    }

    /// <summary>How much lower than played two notes may read where tops were cut off, dB; 0 where none were.</summary>
    /// <remarks>Of triangular pulses that fill √p of the time and are cut off for a share p of it, the crest loses √p of its height.
    /// Proposed: how sharp a tone's pulses were nobody can tell any more.</remarks>
    public double LostIn(SteadyNote a, SteadyNote b) =>
        -20 * Math.Log10(1 - Math.Min(0.9, Math.Sqrt(Math.Max(room.Overload.Share(a.From, a.To), room.Overload.Share(b.From, b.To)))));

    // Until the first return comes the new note is heard alone; its own level is that of both. A note that goes on fading from its beginning may
    // have had no other level to exceed; and what does not repeat itself, as a click beside it, is none of it.
    private Bounds<Decibels> OvershootAround(double over, double tone, SteadyNote b, double lost)
    {
        var around = new Bounds<Decibels>(
            Around(over, Math.Max(b.Sway, b.Flicker), OvershootDoubt + BurstDoubt(b), 0, x => new Decibels(x)).Low,
            Around(over, b.Flicker, OvershootDoubt + BurstDoubt(b), 0, x => new Decibels(x)).High);
        var (below, above) = room.Echo?.Meeting.Level ?? (0, 0);
        var low = Math.Min(around.Low.Value - (over - tone), over - below);
        return new(new(Math.Max(0, low)), new(Math.Max(around.High.Value, over + above) + lost));
    }

    // A note's own level is that of the tone and of the room's answer together; a burst is the tone's alone.
    private double WithoutRoom(double over)
    {
        var share = decay is { Matters: true } d ? d.Share : 0;
        return over <= 0 || share == 0 ? over : Energy.ToDb((Math.Pow(10, over / 10) - share) / (1 - share));
    }

    // Where noise or the room's own sound lies less than 20 dB below the notes, silence cannot be seen, only how long it may have lasted.
    private HeardChange WithSilence(HeardChange heard, ChangeCurve curve, DipFit.Result d, double before, double deepest, double quieter, double flicker, int bottom, double lost)
    {
        const double NearFloor = 3;
        const double TailSway = 2;
        const double LeastFall = 2;
        var silent = curve.Below(Over(quieter - 20), bottom);
        var tail = decay is { Matters: true } r ? before + (10 * Math.Log10(r.Share)) : double.NegativeInfinity;
        var floor = Math.Max(roomDb, tail - (2 * NearFloor));
        if (room.Echo is { } echo) floor = Math.Max(floor, quieter + (20 * Math.Log10(echo.Strength)));
        if (floor + NearFloor > quieter - 20)
        {
            // What the old note leaves in the room sways by more than it falls in a short silence.
            var hiding = Math.Max(Math.Max(floor, quieter - 20) + (2 * NearFloor), tail + TailSway);
            if (!double.IsNegativeInfinity(tail)) hiding = Math.Min(hiding, quieter - LeastFall);
            var hidden = Math.Max(silent, curve.Below(hiding, bottom));
            var sure = Math.Min(silent, curve.Below(Math.Max(roomDb, quieter - 20), bottom));

            // A dip that as a whole surely lies less deep is no silence, whatever fills it.
            var mayBe = deepest > 20 ? hidden : silent;

            // The window laps over both ends of a silence; with steep ends it hides its own length.
            var longest = mayBe > 0 ? mayBe + curve.Window[bottom] : 0;
            return heard with
            {
                Gap = new(Math.Clamp(d.Below20, sure, longest)),
                EarGap = new(silent),
                GapBounds = new(new(sure), new(longest)),
                EarGapInterval = (new(sure), new(mayBe)),
            };
        }

        return heard with
        {
            Gap = new(silent > 0 ? d.Below20 : 0),
            EarGap = new(silent),
            EarGapInterval = IsDry ? Times(curve, quieter - 20, LevelReach(flicker), bottom, lost) : null,
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

    // A held note's level is that of the tone and of all its returns, which meet as chance has it: each partial sways by 20·log|1 + z|, z being
    // normal of the power of what comes back after the burst (Rayleigh's random phases).
    private double BurstDoubt(SteadyNote b)
    {
        if (decay is not { Matters: true } d) return 0;
        var later = d.Share / (1 - d.Share) * Math.Pow(10, -6 * (BumpWithin / 2) / d.Seconds60);
        return 20 / Math.Log(10) * Math.Sqrt(later / 2 / b.Partials);
    }

    public double RoomTime => Math.Max(decay is { Matters: true } d ? Lingers * Math.Sqrt(d.Share * d.Seconds60) : 0, room.Echo?.Time ?? 0);

    // A 90 % interval: what the fit does not know, and what no fit of this kind knows.
    private static Bounds<T> Around<T>(double value, double deviation, double floor, double share, Func<double, T> unit, double least = 0)
    {
        var reach = Bounding.Reach(deviation, floor, share);
        return new(unit(Math.Max(least, value - reach)), unit(value + reach));
    }

    private static Bounds<Seconds>? GapAround(DipFit.Result d) =>
        d.Below20 > 0 ? Around(d.Below20, d.WidthDeviation, 0.002, 0.05 * d.Below20, x => new Seconds(x)) : null;

    // Share of a burst's height that a window hides: of a raised cosine as long as the longest soft touch, the shortest push there is.
    private static double HiddenOf(double window)
    {
        const double Shortest = 0.045;
        var x = Math.PI * Math.Min(1, window / Shortest);
        return (1 - (Math.Sin(x) / x)) / 2;
    }

    // Lowest correlation within the window in which the level is read: the pitch's own is shorter on high notes, and a click at the level's edge
    // lies outside it.
    private static float Throughout(ChangeCurve curve, int at)
    {
        var half = (int)Math.Round(curve.Window[at] / 2 / FinePitch.Hop);
        var lowest = curve.Strength[at];
        for (var i = Math.Max(0, at - half); i <= Math.Min(curve.Count - 1, at + half); i++) lowest = Math.Min(lowest, curve.Strength[i]);
        return lowest;
    }

    // The level just behind where a burst may be: a note that swells or fades all along has no other level to begin above.
    private static double Settled(ChangeCurve curve, double from, double to)
    {
        const double Wait = 0.03, Long = 0.12;
        var (first, last) = (from + Wait, Math.Min(to, from + Wait + Long));
        return last - first < Long / 2 || curve.Time(curve.Count - 1) < last ? double.NegativeInfinity : OrderStatistic.At(curve.Db.AsSpan(curve.Index(first)..curve.Index(last)).ToArray(), (curve.Index(last) - curve.Index(first)) / 2);
    }

    // Of all that sounds, and of what repeats itself as well as the note does at its best: no less of that than of the note's own level. The new
    // note begins where the dip is half way back, or with the turn where that is later. Before the turn the old note sounds: only what exceeds both is a burst.
    private static (double Over, double Tone) Overshoot(ChangeCurve curve, SteadyNote a, SteadyNote b, DipFit.Result? dip, double turn)
    {
        var from = dip?.Centre ?? turn;
        var to = Math.Max(turn, from + ((dip?.HalfWidth ?? 0) / 2)) + BumpWithin;
        var (over, tone) = (0.0, 0.0);
        var settled = Math.Max(b.Db, Settled(curve, to, b.To));
        var best = 0.01f;
        for (var i = curve.Index(from); i < curve.Count; i++) best = Math.Max(best, curve.Strength[i]);
        for (var i = curve.Index(from); i <= curve.Index(to); i++)
        {
            if (curve.Time(i) < from || curve.Time(i) > to) continue;
            var own = curve.Time(i) < turn + HalfBlend ? Math.Max(a.Db, settled) : settled;
            over = Math.Max(over, curve.Db[i] - own);
            tone = Math.Max(tone, curve.Db[i] + (10 * Math.Log10(Math.Clamp(Throughout(curve, i) / best, 0.01, 1))) - own);
        }

        return (over, tone);
    }
}
