using System.Collections.Immutable;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Listening;

/// <summary>Measures one note change: the pitch's way, the level's dip, and what lies between.</summary>
internal sealed class ChangeMeter(SampleStore samples, ListeningSettings settings, RoomAnswer room)
{
    private const double FurthestLook = 0.45;

    // Seconds of both notes that are looked at beside a rest, and the longest rest that is measured.
    private const double BesideRest = 0.15;
    private const double LongestRest = 4;
    private const double Margin = 0.15;

    // Pitch needs no reading every millisecond: its windows are ten times as long.
    internal const int PitchEvery = 2;

    // 10–90 % time of a minimum-jerk glide, and nearly of any smooth one, over its standard deviation.
    private const double TenToNinetyOverDeviation = 2.69;
    private const double LeastSemitones = 0.3;

    // Seconds at half depth: twice what the longest soft touch takes; and from the turn: later or earlier no touch belongs to it. What is longer and shallower, dB, is the
    // notes' own swelling and fading.
    private const double LongestTouch = 0.2, FurthestTouch = 0.2, DeepestSag = 10, LeastTouch = 1;

    // How far below the lower and above the higher note a pitch is looked for: a wrong partial may lie outside them.
    internal const double LowestShare = 0.74;
    internal const double HighestShare = 1.62;

    // A dip this deep bends the measured pitch; in one deeper than the second figure no pitch is seen at all.
    private const double WorthUndoing = 5;
    private const double Blind = 32;

    // So far down nothing is heard of a note beside its neighbours (the limit of stopped air).
    internal const double Silent = 20;

    private readonly Excerpt excerpt = new(samples);
    private readonly LevelMeter levels = new(room, settings.EarWindow.Value);
    private readonly CompanyDoubts company = new(room.Other);
    private readonly WayMeter ways = new(Math.Pow(10, room.NoiseDb / 10));

    /// <summary>Measures the change between two steady notes.</summary>
    public (HeardChange Heard, FittedGlide? Glide, PitchWay? Way) Measure(Plan plan, NoteChange change, SteadyNote a, SteadyNote b, double boundary)
    {
        var (heard, glide, curve) = MeasureFigures(plan, change, a, b, boundary);
        heard = company.Added(heard, curve, a, b, boundary);
        if (!settings.FollowWays || change.Kind == ChangeKind.Breath || !Moves(a, b)) return (heard, glide, null);
        return (heard, glide, ways.Measure(excerpt, curve, glide, a, b, heard.GlideCentre?.Value ?? boundary, Span(a, b, boundary)));
    }

    private (HeardChange Heard, FittedGlide? Glide, ChangeCurve Curve) MeasureFigures(Plan plan, NoteChange change, SteadyNote a, SteadyNote b, double boundary)
    {
        var low = Math.Min(a.Hz, b.Hz);
        var span = change.Kind == ChangeKind.Breath && !IsLong(a, b) ? AboutRest(a, b, boundary) : Span(a, b, boundary);
        var part = excerpt.Load(span.From - Margin, span.To + Margin);
        var curve = CurveOf(part, a, b, span);
        var heard = new HeardChange { Index = change.Index, Found = true, Resolution = new(Math.Max(settings.EarWindow.Value, 2 / low)) };
        heard = heard with { Doubts = DoubtsAt(low, a, b) };
        if (change.Kind == ChangeKind.Breath) return (IsLong(a, b) ? heard : levels.Add(heard, curve, a, b, DipOf(curve, a, b, boundary), boundary), null, curve);
        var moves = Moves(a, b);
        var reading = moves ? GlideOf(curve, a, b, boundary) : null;
        var dip = DipOf(curve, a, b, reading?.Centre ?? boundary, moves && MayBreak(plan, change));
        var lifted = dip is { Depth: >= WorthUndoing };
        if (lifted) LookInside(part.Fine, curve, dip!.Value, low, Math.Max(a.Hz, b.Hz));
        if (lifted && moves) reading = GlideOf(curve, a, b, boundary) ?? reading;
        heard = levels.Add(heard, curve, a, b, dip, reading?.Centre ?? boundary);
        heard = heard with { LowestPeriodicity = curve.Lowest(boundary - 0.06, boundary + 0.06) };
        var caught = new CaughtFinder(part.Fine, curve, a, b, boundary, room.Decay is { Matters: true }).Find(CarriedWays.Of(plan, change, curve, a, b), MayBreak(plan, change));
        var untold = (Caught(heard, caught), (FittedGlide?)null, curve);
        if (dip is { Depth: > Blind } silence) return moves && AboutSilence(heard, plan, change, curve, a, b, silence) is { } told && IsExplained(caught, told.Glide) ? (told.Heard, told.Glide, curve) : untold;
        if (reading is not { } r) return untold;
        var (glided, glide) = new GlideMeter(curve, a, b, lifted ? null : dip?.Shape.Main, levels.RoomTime, levels.LostIn(a, b)).Measure(heard, plan, change, r);

        return IsExplained(caught, glide) ? (glided, glide, curve) : (Caught(heard, caught), null, curve);
    }

    // A pitch on the fitted way is no wrong partial, however slow the way is.
    private static bool IsExplained(CaughtFinder.Held? caught, FittedGlide? glide) => caught is not { } held || (glide is not null && CaughtFinder.IsOn(held, glide));

    private static HeardChange Caught(HeardChange heard, CaughtFinder.Held? held) =>
        held is { } c ? heard with { CaughtPitch = new(c.Hz), CaughtFor = new(c.To - c.From), CaughtMayBeNote = c.MayBeNote } : heard;

    // A change of pitch that lies beside the silence is heard as any other. A slide that is heard on both sides of it was a slide in it too: that nothing repeats
    // itself there is no sign of a break. One that may lie wholly inside it is not told.
    private (HeardChange Heard, FittedGlide? Glide)? AboutSilence(HeardChange heard, Plan plan, NoteChange change, ChangeCurve curve, SteadyNote a, SteadyNote b, DipFit.Result dip)
    {
        const double Longer = 1.5;
        curve.Mute(Math.Min(a.Db, b.Db) - Silent);
        if (GlideOf(curve, a, b, dip.Centre) is not { } reading) return null;
        var isBeside = !curve.IsMuted(reading.From - (dip.HalfWidth / 2), reading.To + (dip.HalfWidth / 2));
        if (!isBeside && reading.Length < Longer * dip.HalfWidth) return null;
        double? lowest = isBeside ? curve.Lowest(reading.From, reading.To) : null;
        var (told, glide) = new GlideMeter(curve, a, b, null, levels.RoomTime, levels.LostIn(a, b)).Measure(heard with { LowestPeriodicity = lowest }, plan, change, reading);
        var isTold = glide is not null && (isBeside || (told.Break is null && told.Glide?.Value > Longer * dip.HalfWidth));
        return isTold ? (told with { LowestPeriodicity = heard.LowestPeriodicity }, glide) : null;
    }

    private static bool MayBreak(Plan plan, NoteChange change) =>
        plan.Notes[change.FromNote].Setting is { } from && plan.Notes[change.ToNote].Setting is { } to && (from.Side.Id != to.Side.Id || from.Partial != to.Partial);

    private static bool Moves(SteadyNote a, SteadyNote b) => Math.Abs(Math.Log2(b.Hz / a.Hz)) * 12 >= LeastSemitones;

    // The worst first: what fills a silence down to the limit of stopped air hides more than a low note's window blurs.
    private ImmutableArray<Doubt> DoubtsAt(double low, SteadyNote a, SteadyNote b)
    {
        const double NearNoise = 30, Filled = 20;
        const double NoticedLoss = 0.5;
        var aboveNoise = Math.Min(a.Db, b.Db) - room.NoiseDb;
        var rings = room.Decay is { Matters: true };
        var ringsOver = room.Decay is { Matters: true } d && -10 * Math.Log10(d.Share) < Filled;
        var doubts = ImmutableArray.CreateBuilder<Doubt>();
        if (company.Matter(a, b)) doubts.Add(Doubt.OtherSound);
        if (levels.LostIn(a, b) > NoticedLoss) doubts.Add(Doubt.Clipping);
        if (room.Echo is not null) doubts.Add(Doubt.Echo);
        if (ringsOver) doubts.Add(Doubt.Reverberation);
        if (aboveNoise < Filled) doubts.Add(Doubt.Noise);
        if (2 / low > settings.EarWindow.Value * 1.3) doubts.Add(Doubt.LowNote);
        if (aboveNoise is >= Filled and < NearNoise) doubts.Add(Doubt.Noise);
        if (rings && !ringsOver) doubts.Add(Doubt.Reverberation);
        if (Math.Min(a.To - a.From, b.To - b.From) < 3 / low) doubts.Add(Doubt.ShortNotes);
        return doubts.ToImmutable();
    }

    private static bool IsLong(SteadyNote a, SteadyNote b) => b.From - a.To > LongestRest;

    private static (double From, double To) Span(SteadyNote a, SteadyNote b, double boundary) =>
        (Math.Max(boundary - FurthestLook, (a.From + a.To) / 2), Math.Min(boundary + FurthestLook, (b.From + b.To) / 2));

    // Where the first note ends and where the second begins lie further apart than any change is long.
    private static (double From, double To) AboutRest(SteadyNote a, SteadyNote b, double boundary) =>
        (Math.Max(Math.Min(boundary - FurthestLook, a.To - BesideRest), (a.From + a.To) / 2), Math.Min(Math.Max(boundary + FurthestLook, b.From + BesideRest), (b.From + b.To) / 2));

    private ChangeCurve CurveOf(Excerpt part, SteadyNote a, SteadyNote b, (double From, double To) span)
    {
        var (low, high) = (Math.Min(a.Hz, b.Hz), Math.Max(a.Hz, b.Hz));
        var count = Math.Max(3, (int)((span.To - span.From) / FinePitch.Hop) + 1);
        var curve = new ChangeCurve(span.From, count);
        for (var i = 0; i < count; i++)
        {
            var t = curve.Time(i);
            if (i % PitchEvery != 0)
            {
                curve.Repeat(i);
                curve.Db[i] = part.Energy.Db(t, curve.Window[i]);
                continue;
            }

            var c = part.Fine.At(t, LowestShare * low, HighestShare * high, 1 / low);
            (curve.Hz[i], curve.Strength[i]) = (c.Hz, c.Strength);
            var period = 1 / (c is { Hz: > 0, Strength: > 0.7f } ? c.Hz : low);
            curve.Window[i] = Energy.Window(settings.EarWindow.Value, period);
            curve.Db[i] = part.Energy.Db(t, curve.Window[i]);
        }

        return curve;
    }

    private static bool IsSag(DipFit.Result dip) => dip.HalfWidth > LongestTouch && dip.Depth < DeepestSag;

    private static GlideReading? GlideOf(ChangeCurve curve, SteadyNote a, SteadyNote b, double boundary)
    {
        var share = curve.Shares(a.Hz, b.Hz);
        var middle = NearestCrossing(share, curve, boundary);
        if (middle < 0) return null;
        var (start, end) = (middle, middle);
        while (start > 0 && share[start] > 0.1) start--;
        while (end < share.Length - 1 && share[end] < 0.9) end++;
        var from = curve.Time(start) + Part(share, start, 0.1);
        var to = curve.Time(end) - FinePitch.Hop + Part(share, end - 1, 0.9);
        var centre = curve.Time(middle) - FinePitch.Hop + Part(share, middle - 1, 0.5);
        var deviation = Math.Max(0, to - from) / TenToNinetyOverDeviation;
        var blur = FinePitch.Blur(Math.Min(a.Hz, b.Hz), Math.Sqrt(a.Hz * b.Hz));
        return new GlideReading(centre, TenToNinetyOverDeviation * Math.Sqrt(Math.Max(0, (deviation * deviation) - (blur * blur))), from, to);
    }

    private static double Part(double[] share, int i, double wanted)
    {
        if (i < 0 || i + 1 >= share.Length || share[i + 1] == share[i]) return 0;
        return FinePitch.Hop * Math.Clamp((wanted - share[i]) / (share[i + 1] - share[i]), 0, 1);
    }

    private static int NearestCrossing(double[] share, ChangeCurve curve, double boundary)
    {
        var best = -1;
        for (var i = 1; i < share.Length; i++)
        {
            if (share[i - 1] >= 0.5 || share[i] < 0.5) continue;
            if (best < 0 || Math.Abs(curve.Time(i) - boundary) < Math.Abs(curve.Time(best) - boundary)) best = i;
        }

        return best;
    }

    private DipFit.Result? DipOf(ChangeCurve curve, SteadyNote a, SteadyNote b, double turn, bool mayBreak = false)
    {
        var times = Enumerable.Range(0, curve.Count).Select(curve.Time).ToArray();
        var found = Fit(curve.Db, ..);
        if (found is { HalfWidth: <= LongestTouch } far && Math.Abs(far.Centre - turn) > FurthestTouch)
        {
            // What lies so far off is the notes' own affair; the touch is looked for about the turn.
            found = Fit(curve.Db, curve.Index(turn - FurthestTouch)..(curve.Index(turn + FurthestTouch) + 1));
            if (found is { } near && Math.Abs(near.Centre - turn) > FurthestTouch) return null;
        }

        if (found is not { } broad || !IsSag(broad)) return found;

        // Notes that swell and fade sag at their seam for longer than any touch: a touch is looked for in what is left, where the sag's own
        // shape leaves less than its depth.
        return Fit([.. times.Select((t, i) => curve.Db[i] - broad.Shape.At(t))], ..) is { } touch && !IsSag(touch) && touch.Depth >= Math.Max(LeastTouch, broad.Depth) ? touch : null;

        DipFit.Result? Fit(double[] levels, Range about) => new DipFit(times[about], levels[about], curve.Window[about], a.Db, b.Db, turn, room.NoiseDb, room.Decay, mayBreak).Solve();
    }

    // The pitch again where the dip is, with the dip undone: otherwise the louder sound on both sides hides how long the glide is.
    private static void LookInside(FinePitch fine, ChangeCurve curve, DipFit.Result dip, double low, double high)
    {
        var reach = dip.Shape.Reach + (2 / low);
        var lifted = fine.Undipped(dip.Shape.Centre - reach - (3 / low), dip.Shape.Centre + reach + (3 / low), dip.Shape.At, Blind);
        for (var i = 0; i < curve.Count; i++)
        {
            if (Math.Abs(curve.Time(i) - dip.Shape.Centre) > reach) continue;
            if (i % PitchEvery != 0)
            {
                curve.Repeat(i);
                continue;
            }

            var c = lifted.At(curve.Time(i), LowestShare * low, HighestShare * high, 1 / low);
            (curve.Hz[i], curve.Strength[i]) = (c.Hz, c.Strength);
        }
    }
}
