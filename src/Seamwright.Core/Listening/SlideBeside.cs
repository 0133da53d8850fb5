using Seamwright.Core.Units;

namespace Seamwright.Core.Listening;

/// <summary>A slide that is heard beside a break: the arm goes against the pitch, the note sags away from the one to come, and the new one comes back from
/// beyond its own pitch.</summary>
/// <param name="Audible">From a tenth of its way on, while it is loud enough to be heard: less than 6 dB below the quieter neighbour.</param>
/// <param name="Bounds">90 % interval of that.</param>
/// <param name="Semitones">How far it goes, positive.</param>
public sealed record HeardSlide(Seconds Audible, Bounds<Seconds> Bounds, double Semitones)
{
    /// <summary>How plainly it is heard: time by semitones, as the threshold of hearing goes ('t Hart 1976).</summary>
    internal double Weight => Audible.Value * Semitones;
}

/// <summary>Measures what slides against the pitch before and after a break.</summary>
/// <param name="curve">Pitch and level through the change.</param>
/// <param name="a">The note before.</param>
/// <param name="b">The note after.</param>
/// <param name="roomTime">How long, seconds, the room lets a pitch linger.</param>
internal sealed class SlideBeside(ChangeCurve curve, SteadyNote a, SteadyNote b, double roomTime)
{
    // Nothing further than a third of a semitone or so from a note is taken for its own swing; and standard deviations of that.
    private const double LeastSemitones = 0.3, SwaysApart = 2.5;

    // Periodicity from which a reading is of one note alone; share of the way at which a slide begins; readings without pitch that are bridged.
    private const float Whole = 0.85f;
    private const double Begins = 0.1;
    private const int Bridge = 20;

    private readonly double sign = Math.Sign(b.Hz - a.Hz);

    /// <summary>Before the break; null where none is.</summary>
    /// <param name="at">The break, seconds.</param>
    public HeardSlide? Before(double at) => Read(at, -1, a, -sign);

    /// <summary>After it.</summary>
    /// <param name="at">The break, seconds.</param>
    public HeardSlide? After(double at) => Read(at, 1, b, sign);

    private HeardSlide? Read(double at, int way, SteadyNote note, double beyond)
    {
        var (last, extent, gap) = (-1, 0.0, 0);
        var away = new List<(int Place, double Semitones)>();
        for (var i = curve.Index(at); i >= 0 && i < curve.Count && gap <= Bridge; i += way)
        {
            if (curve.Hz[i] <= 0 || curve.Strength[i] < Whole || Math.Abs(curve.Time(i) - at) < curve.Window[i] / 2)
            {
                gap++;
                continue;
            }

            gap = 0;
            var off = beyond * 12 * Math.Log2(curve.Hz[i] / note.Hz);
            if (away.Count > 0 && off < Begins * extent) break;
            extent = Math.Max(extent, off);
            away.Add((i, off));
            last = i;
        }

        // It goes furthest beside the break; what goes furthest elsewhere is a swing of the note.
        if (away.Count < 3 || extent < Math.Max(LeastSemitones, SwaysApart * note.PitchSway / 100) || away.Take((away.Count + 2) / 3).Max(r => r.Semitones) < extent) return null;
        var begins = curve.Time(last);
        var (from, to) = way < 0 ? (begins, at) : (at, begins);
        var audible = (to - from) * LoudShare(from, to);
        var reach = Bounding.Reach(SwayOnBegin(note, extent) * (to - from), (0.15 * curve.Window[last]) + roomTime, 0.05 * (to - from));
        return new(new(audible), new(new(Math.Max(0, audible - reach)), new(audible + reach)), extent);
    }

    // The note's own swing moves the tenth of the way: at an even pace by so much of the time.
    private static double SwayOnBegin(SteadyNote note, double extent) => Math.Min(0.5, note.PitchSway / 100 / extent);

    private double LoudShare(double from, double to)
    {
        var quieter = Math.Min(a.Db, b.Db);
        var (first, end) = (curve.Index(from), curve.Index(to));
        var loud = Enumerable.Range(first, end - first + 1).Count(i => curve.Db[i] > quieter - GlideMeter.AudibleWithin);
        return loud / (double)(end - first + 1);
    }
}
