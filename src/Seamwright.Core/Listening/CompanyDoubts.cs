using Seamwright.Core.Units;

namespace Seamwright.Core.Listening;

/// <summary>Widens what was measured of a change by what another sound in the room may have made or hidden.</summary>
/// <remarks>Amplitudes meet in any phase (<see cref="Meeting"/>). Where the level falls to within 6 dB of the other sound, the pitch read there
/// may be that sound's: the pitch's way is then not known, and a wrong partial would not be heard.</remarks>
/// <param name="other">Null where there is none: nothing is changed.</param>
internal sealed class CompanyDoubts(OtherSound? other)
{
    private const double TooNear = 6;

    // A dip that lies wholly beside the way may be the two sounds beating. A tone of amplitude s beside the player's moves the moment at which a level or pitch is passed by so much of the ear's way to it.
    private const double Reaches = 0.06;
    private const double About = 0.06;
    private const double Unknown = 1;

    /// <summary>Whether another sound is loud enough to matter beside two notes.</summary>
    public bool Matter(SteadyNote a, SteadyNote b) => other?.Strength(Math.Min(a.Db, b.Db)) > 0;

    /// <summary>The change with its doubts.</summary>
    /// <param name="heard">As measured.</param>
    /// <param name="curve">Level through the change.</param>
    /// <param name="a">The first note.</param>
    /// <param name="b">The second note.</param>
    /// <param name="boundary">Where one gives way to the other, seconds.</param>
    public HeardChange Added(HeardChange heard, ChangeCurve curve, SteadyNote a, SteadyNote b, double boundary)
    {
        if (other is null || !Matter(a, b)) return heard;
        var quieter = Math.Min(a.Db, b.Db);
        var turn = heard.DipCentre?.Value ?? heard.GlideCentre?.Value ?? boundary;
        var reach = About + ((heard.DipWidth?.Value ?? 0) / 2);
        var bottom = curve.Bottom(turn - reach, turn + reach);
        return WithWay(WithLevels(heard, curve, quieter, bottom), curve, bottom);
    }

    private HeardChange WithLevels(HeardChange heard, ChangeCurve curve, double quieter, int bottom)
    {
        var meeting = new Meeting(other!.Strength(quieter));
        var dip = heard.Dip?.Value ?? 0;
        var (low, high) = meeting.Depth(dip, Dips.Deepest);
        var depth = new Bounds<Decibels>(
            new(Math.Min(heard.DipBounds?.Low.Value ?? dip, low)), new(Math.Max(heard.DipBounds?.High.Value ?? dip, high)));

        // The beginning and the note's own level are moved each for itself.
        var apart = meeting.Level.Below + meeting.Level.Above;
        var over = heard.Overshoot?.Value ?? 0;
        heard = heard with
        {
            DipBounds = depth,
            EarDipBounds = null,
            OvershootBounds = new(
                new(Math.Max(0, Math.Min(heard.OvershootBounds?.Low.Value ?? over, over - apart))), new(Math.Max(heard.OvershootBounds?.High.Value ?? over, over + apart))),
        };
        return WithTimes(heard, curve, quieter, bottom, dip, depth);
    }

    private HeardChange WithTimes(HeardChange heard, ChangeCurve curve, double quieter, int bottom, double dip, Bounds<Decibels> depth)
    {
        const double Limit = 10, Silence = 20;
        Seconds Down(double db) => new(curve.Below(quieter - db, bottom));
        Seconds Under(double limit) => dip <= 0 ? Down(limit) : Down(Math.Min(limit - 1, limit * dip / depth.High.Value));
        Seconds Surely(double limit) => dip <= 0 ? Seconds.Zero : Down(Math.Max(limit + 1, limit * dip / Math.Max(depth.Low.Value, 1e-3)));
        var (ten, silent) = (Down(Limit), Down(Silence));
        var hides = other!.Db + TooNear > quieter - Silence;
        var hidden = hides ? new Seconds(curve.Below(Math.Max(other.Db + TooNear, quieter - Silence + 1), bottom)) : Under(Silence);
        var sure = new Seconds(Math.Min(silent.Value, hides ? Surely(Silence).Value : Down(Silence + 1).Value));
        return heard with
        {
            Below10 = heard.Below10 is null ? null : ten,
            Below10Interval = (new(Math.Min(ten.Value, Surely(Limit).Value)), new(Math.Max(ten.Value, Under(Limit).Value))),
            Gap = silent,
            EarGap = silent,
            GapBounds = new(
                new(Math.Min(sure.Value, heard.GapBounds?.Low.Value ?? sure.Value)), new(Math.Max(Math.Max(silent.Value, hidden.Value), heard.GapBounds?.High.Value ?? 0))),
            EarGapInterval = (sure, new(Math.Max(silent.Value, hidden.Value))),
        };
    }

    private HeardChange WithWay(HeardChange heard, ChangeCurve curve, int bottom)
    {
        var dipClear = curve.Db[bottom] - other!.Db;
        if (heard.GlideCentre is not { } centre || heard.Glide is not { } glide) return heard with { IsCovered = dipClear < TooNear };
        var way = curve.Bottom(centre.Value - (glide.Value / 2) - 0.02, centre.Value + (glide.Value / 2) + 0.02);
        var clear = curve.Db[way] - other.Db;
        var covered = Math.Min(clear, dipClear) < TooNear;
        var length = clear < TooNear ? Unknown : Reaches * Math.Pow(10, -clear / 20);
        var farApart = Math.Abs(heard.TongueOffset?.Value ?? 0) > ((glide.Value + (heard.DipWidth?.Value ?? 0)) / 2) + About;
        var touch = dipClear < TooNear || farApart ? Unknown : Reaches * Math.Pow(10, -dipClear / 20);
        heard = heard with
        {
            IsCovered = covered,
            GlideBounds = Wider(heard.GlideBounds, glide, length),
            AudibleGlideBounds = heard.AudibleGlide is { } audible ? Wider(heard.AudibleGlideBounds, audible, length) : null,
            GlideCentreBounds = Wider(heard.GlideCentreBounds, centre, length / 2),
            DipCentreBounds = heard.DipCentre is { } dip ? Wider(heard.DipCentreBounds, dip, touch) : null,
            TongueOffsetBounds = heard.TongueOffset is { } offset ? Wider(heard.TongueOffsetBounds, offset, touch + (length / 2), double.NegativeInfinity) : null,
        };
        return covered ? heard with { Broke = null, Break = null, Arm = null } : heard;
    }

    private static Bounds<Seconds> Wider(Bounds<Seconds>? known, Seconds value, double by, double least = 0) =>
        new(new(Math.Max(least, (known?.Low ?? value).Value - by)), new((known?.High ?? value).Value + by));
}
