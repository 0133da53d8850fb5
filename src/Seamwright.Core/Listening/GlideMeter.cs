using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Listening;

/// <summary>The pitch's way as the curve shows it, before anything is fitted.</summary>
/// <param name="Centre">Where it is half way, seconds.</param>
/// <param name="Length">10–90 % time, seconds.</param>
/// <param name="From">Where it leaves the first tenth.</param>
/// <param name="To">Where it reaches the last.</param>
internal readonly record struct GlideReading(double Centre, double Length, double From, double To);

/// <summary>Fits the pitch's way through one change, and reads the arm from it.</summary>
/// <param name="curve">Pitch and level through the change.</param>
/// <param name="a">The note before.</param>
/// <param name="b">The note after.</param>
/// <param name="roomTime">How long, seconds, the room lets a pitch linger.</param>
/// <param name="dip">The dip the pitch is seen through; null where there is none or it has been undone.</param>
/// <param name="lost">How much lower than played the two notes may read where tops were cut off, dB.</param>
internal sealed class GlideMeter(ChangeCurve curve, SteadyNote a, SteadyNote b, DipShape? dip, double roomTime, double lost)
{
    internal const double AudibleWithin = 6;

    // The old note's tail keeps its pitch in the room while the new one begins: the way may have been so much earlier, in proportion to the room's time.
    private const double TailLag = 0.7;

    // Half the logarithm of the odds that a jump is there, from which it is believed; twice that where none was planned.
    private const double Believed = 3;
    private const double WorthAJump = 3;

    // Periodicity of a break and of a slide on one partial (measured on one player).
    private const double Breaks = 0.7;
    private const double Slides = 0.88;
    internal const double LongForABreak = 0.045;

    // A tongue that closes while a partial breaks leaves neither partial the air to win: for so long, seconds, both may sound as strong
    // before the second is heard. dB from which it does so.
    private const double Choked = 0.017, Chokes = 10;

    // A swing of the pitch moves the ends of a minimum-jerk glide, where it is half as fast as on the average, and its middle.
    private const double SwayOnLength = 1.9;

    // Standard deviations of the notes' own pitch beyond which a slide is one.
    private const double SwaysApart = 2.5;

    // What moves faster is seen as a jump, and nothing is known of the arm: a position in 12 ms would peak at 12 m/s.
    private const double LeastArm = 0.012;

    // With a break on the way only what slides before and after it in the pitch's own direction is continuous.
    private const double LeastSlide = 0.3;

    /// <summary>Adds glide, break and arm to what was heard.</summary>
    public (HeardChange Heard, FittedGlide? Glide) Measure(HeardChange heard, Plan plan, NoteChange change, GlideReading reading)
    {
        var (from, to) = (plan.Notes[change.FromNote].Setting, plan.Notes[change.ToNote].Setting);
        var onOnePartial = from is not null && to is not null && from.Side.Id == to.Side.Id && from.Partial == to.Partial;
        var fit = new GlideFit(curve, a.Hz, b.Hz, reading, Power, onOnePartial ? a.Hz / b.Hz : 1, !onOnePartial);
        if (Found(fit, heard, onOnePartial, reading.Length / MinimumJerk.TenToNinety) is not { } found) return (heard, null);
        found = found with { Shape = WithoutSway(found.Shape) };
        var (ten, half, ninety) = found.Shape.Passage();
        var window = heard.Resolution!.Value.Value;
        var slope = (ninety - ten) * Math.Max(a.PitchSway, b.PitchSway) / (100 * Math.Abs(12 * Math.Log2(b.Hz / a.Hz)));
        var length = Bounding.Reach(Math.Max(found.LengthDeviation, SwayOnLength * slope), ((ninety - ten < window ? 0.15 : 0.08) * window) + roomTime, 0.02 * (ninety - ten));
        var centre = Bounding.Reach(Math.Max(found.CentreDeviation, slope), ((found.Shape.Jump == 0 ? 0.03 : 0.12) * window) + (0.5 * roomTime), 0) + Crossing(found.Shape);
        var semitones = 12 * Math.Log2(b.Hz / a.Hz);
        var continuous = (1 - found.Shape.Jump) * semitones;
        var audible = Audible(ten, ninety, 0);

        // Tops that were cut off took level from both notes, not from the dip between them: it was so much deeper.
        var surely = lost > 0 ? Audible(ten, ninety, lost) : audible;
        heard = heard with
        {
            Glide = new(ninety - ten),
            GlideBounds = new(new(Math.Max(0, ninety - ten - length)), new(ninety - ten + length)),
            GlideCentre = new(half),
            GlideCentreBounds = new(new(half - centre - (TailLag * roomTime)), new(half + centre)),
            GlideSemitones = found.Shape.Jump < 1 && Math.Abs(continuous) >= LeastSlide ? continuous : semitones,
            AudibleGlide = new(audible),
            AudibleGlideBounds = new(new(Math.Max(0, surely - length)), new(audible + length)),
            TongueOffsetBounds = Offset(heard, half, centre, TailLag * roomTime, found.Shape.Jump != 0),
            Broke = Broke(heard, found.Shape, ninety - ten),
            Break = found.Shape.Jump == 0 ? null : new(new(found.Shape.JumpAt), found.Shape.Jump * semitones),
        };
        if (onOnePartial && heard.Broke != true && found.Shape is { Jump: 0, Length: > LeastArm })
            heard = heard with { Arm = new ArmReader(plan.Instrument, curve).Read(found, from!, to!, a, b) };
        return (WithSlides(heard, found.Shape, half), new FittedGlide(found.Shape, a.Hz, b.Hz));
    }

    // Only beside a break: without one the way itself is all that slides.
    private HeardChange WithSlides(HeardChange heard, GlideShape shape, double half)
    {
        if (heard.Broke != true) return heard;
        var at = shape.Jump > 0 ? shape.JumpAt : half;
        var beside = new SlideBeside(curve, a, b, roomTime);
        return heard with { SlideBefore = beside.Before(at), SlideAfter = beside.After(at) };
    }

    // What slides beside a jump must lie within what was read, and go further than the notes' own pitch swings; else all of the way is the jump.
    private GlideShape WithoutSway(GlideShape shape)
    {
        if (shape.Jump == 0) return shape;
        var (ten, _, ninety) = shape.Passage();
        var cents = 1200 * Math.Abs((1 - shape.Jump) * Math.Log2(b.Hz / a.Hz));
        var isSeen = ten >= curve.Time(0) && ninety <= curve.Time(curve.Count - 1) && cents >= SwaysApart * Math.Max(a.PitchSway, b.PitchSway);
        return isSeen ? shape : shape with { Jump = 1 };
    }

    private static GlideFit.Result? Found(GlideFit fit, HeardChange heard, bool onOnePartial, double length)
    {
        // Where no slide could be believed none is looked for.
        var needed = Needed(heard, onOnePartial);
        if (double.IsNegativeInfinity(needed) && fit.SlideAndJump(length) is { } certain) return certain;
        if (fit.Slide(length) is not { } found) return null;
        return MayBreak(heard, found, onOnePartial) && fit.SlideAndJump(length) is { } broken && Better(found, broken, fit.Independent, needed) ? broken : found;
    }

    private double Power(double t)
    {
        var level = t < (a.To + b.From) / 2 ? a.Db : b.Db;
        return Math.Pow(10, (level + (dip?.At(t) ?? 0)) / 10);
    }

    private static bool MayBreak(HeardChange heard, GlideFit.Result slide, bool onOnePartial) => onOnePartial
        ? slide.Misfit >= WorthAJump && heard.LowestPeriodicity < Slides
        : slide.Misfit >= WorthAJump || heard.LowestPeriodicity < Slides;

    // Where a partial was to change and nothing was periodic for a moment, a jump needs no proof; less periodic than any slide, only to fit as well.
    private static double Needed(HeardChange heard, bool onOnePartial) => heard.LowestPeriodicity switch
    {
        _ when onOnePartial => 2 * Believed,
        < Breaks => double.NegativeInfinity,
        < Slides => -1,
        _ => Believed,
    };

    private static bool Better(GlideFit.Result slide, GlideFit.Result broken, double independent, double needed) =>
        broken.Misfit <= 0 || independent * Math.Log(Math.Max(slide.Misfit, 0.01) / broken.Misfit) > needed;

    private double Audible(double from, double to, double lost)
    {
        var quieter = Math.Min(a.Db, b.Db);
        var (inside, loud) = (0, 0);
        for (var i = 0; i < curve.Count; i++)
        {
            if (curve.Time(i) < from || curve.Time(i) > to) continue;
            inside++;
            if (curve.Db[i] > quieter + lost - AudibleWithin) loud++;
        }

        return inside == 0 ? 0 : (to - from) * loud / inside;
    }

    // While one partial gives way to another both sound and nothing repeats. What lasts longer than a jump is seen to last, two stretches,
    // leaves open when the second was the stronger.
    private double Crossing(GlideShape shape)
    {
        if (shape.Jump == 0) return 0;
        var blur = 2 / Math.Min(a.Hz, b.Hz);
        var (first, last) = (double.NaN, double.NaN);
        for (var i = curve.Index(shape.JumpAt - (2 * blur)); i <= curve.Index(shape.JumpAt + (2 * blur)); i++)
        {
            if (curve.Strength[i] >= Breaks) continue;
            first = double.IsNaN(first) ? curve.Time(i) : first;
            last = curve.Time(i);
        }

        return double.IsNaN(first) ? 0 : Math.Max(0, (last - first - blur) / 2);
    }

    private static Bounds<Seconds>? Offset(HeardChange heard, double half, double centre, double earlier, bool breaks)
    {
        if (heard.DipCentre is not { } d || heard.DipCentreBounds is not { } known) return null;
        var reach = Math.Sqrt(Math.Pow((known.High - known.Low).Value / 2, 2) + (centre * centre));
        var late = breaks && heard.Dip?.Value > Chokes && d.Value > half - Choked && d.Value < half + Choked ? Choked : 0;
        return new(new(d.Value - half - reach), new(d.Value - half + reach + late + earlier));
    }

    private static bool? Broke(HeardChange heard, GlideShape shape, double length)
    {
        if (shape.Jump >= 0.6 || heard.LowestPeriodicity < Breaks) return true;
        if (heard.LowestPeriodicity > Slides && length > LongForABreak) return false;
        return null;
    }
}

/// <summary>Reads the slide's movement from a glide on one partial.</summary>
internal sealed class ArmReader(Instrument instrument, ChangeCurve curve)
{
    private const double PathHop = 0.005;
    private const double BeforeAndAfter = 0.08;
    private const double Creeping = 0.4, SurelyCreeping = 0.32;

    // The pitch shows when the slide passes 10 and 90 % of its way; how long the rest took depends on how evenly the arm moved. Of an even movement it is the least.
    private const double EvenTenToNinety = 0.8;

    // Its speed as a share of the peak of a minimum-jerk movement that takes as long from 10 to 90 %.
    private static readonly double EvenPeak = EvenTenToNinety / MinimumJerk.TenToNinety / MinimumJerk.PeakOverMean;

    public HeardArm Read(GlideFit.Result found, SlideSetting from, SlideSetting to, SteadyNote a, SteadyNote b)
    {
        var (shape, length) = (found.Shape, found.Shape.Length);
        var (x, y) = (TravelAt(from, a.Hz), TravelAt(to, b.Hz));
        var reach = Bounding.Reach(found.LengthDeviation, 0.1 * 2 / Math.Min(a.Hz, b.Hz), 0.03 * length) / MinimumJerk.TenToNinety;
        var (quickest, longest) = (Math.Max(0.001, length - reach), length + reach);
        var first = NoteMeter.WholeOf(a);
        var shortest = Math.Max(0.001, (length * MinimumJerk.TenToNinety / EvenTenToNinety) - reach);
        var (start, end) = (shape.Centre - (length / 2), shape.Centre + (length / 2));
        var pathStart = Math.Max(curve.Time(0), start - BeforeAndAfter);
        var pathEnd = Math.Min(curve.Time(curve.Count - 1), end + BeforeAndAfter);
        return new HeardArm
        {
            Start = new(start),
            End = new(end),
            DurationBounds = new(new(shortest), new(longest)),
            From = x,
            To = y,
            PeakSpeed = MinimumJerk.PeakSpeed(y - x, new(length)),
            PeakSpeedBounds = new(EvenPeak * MinimumJerk.PeakSpeed(y - x, new(longest)), MinimumJerk.PeakSpeed(y - x, new(quickest))),
            Crept = length > Creeping * first && shortest > SurelyCreeping * first && length > 0.2,
            PathStart = new(pathStart),
            Path = [.. Enumerable.Range(0, Math.Max(0, (int)((pathEnd - pathStart) / PathHop))).Select(i => PathAt(pathStart + (i * PathHop), from))],
        };
    }

    private Centimetres? PathAt(double time, SlideSetting setting)
    {
        var i = curve.Index(time);
        return curve.Hz[i] > 0 && curve.Strength[i] > 0.6f ? TravelAt(setting, curve.Hz[i]) : null;
    }

    // The column's length is inverse to the pitch, whatever the partial, and the slide counts twice.
    private Centimetres TravelAt(SlideSetting setting, double hz)
    {
        var closed = setting.Side.EffectiveLength.Value;
        var sounding = (closed + (2 * setting.Travel.Value)) * instrument.Sounding(setting).Value / hz;
        return new((sounding - closed) / 2);
    }
}
