using System.Numerics;
using System.Runtime.CompilerServices;

namespace Seamwright.Core.Listening;

/// <summary>Reads the room inside the music: the old note's harmonics go on sounding in the room while the new note is held.</summary>
/// <remarks>A player who changes pitch ends the old note's harmonics at once; a room keeps them for its own time. They are read between the new note's
/// harmonics, in a window whose main lobe is narrower than the gap (Blackman, three bins; Harris, Proc. IEEE 66 (1978)), every 10 ms after the
/// change, beside places where neither note has a harmonic: what is not louder than there is breath or noise. Medians over all changes, 10 ms
/// by 10 ms, lie on one line in dB: its slope is the room's time for 60 dB, and where it begins, at the old note's end, is the room's share.
/// Ends of phrases (<see cref="RoomReader.DecayOf"/>) show a short room only where the player stops faster than it rings; this needs no end at all.</remarks>
internal sealed class TailReader
{
    private const double Hop = LiveEar.Hop;
    private const int MostChanges = 60, FewestChanges = 4, FewestLags = 4, SureLags = 6;

    // Seconds: shortest and longest window (a pedal note's outlasts the tail), from lag to lag, after the new pitch is reached, and what is left out
    // at the new note's end.
    private const double Shortest = 0.04, Longest = 0.16, Step = 0.01, Reached = 0.005, Edge = 0.02;
    private const int Lags = 20;

    // Periods of the new note in a window: its lobe then reaches a quarter of the way from harmonic to harmonic.
    private const double Periods = 12, Lobe = 3;
    private const double Highest = 3500;
    private const double LeastSemitones = 0.8;
    private const double SamePitch = 40;

    // Harmonics 20 dB below the loudest one carry little of the tail and much of the noise.
    private const double Weakest = 0.01;
    private const int MostPlaces = 8;
    private static readonly int AtOnce = 2 * Vector<double>.Count;

    // How many times the floor is seen to be more than it; and dB against the old note below which no room matters.
    private const double Visible = 3, Matters = -30;

    // The median of a few powers of random phase lies so far below their mean.
    private const double MedianToMean = 0.8;

    // Seconds for 60 dB; dB that a tail must fall while it is seen; dB against the old note at the first moment.
    private const double LongestRoom = 4, LeastFall = 6, Loud = -36;

    // How evenly it must fall (R²), more so where it is seen for a short time; how many times faster at last than at first it may; and dB against the old
    // note at the note's own end above which no room begins.
    private const double Straight = 0.8, StraightShort = 0.9, MostBend = 2.2, Loudest = 3;

    // Seconds from the old pitch to the new one.
    private const double Quick = 0.04;

    // One dip of so many is deep enough to show how soft the tail is at most, and dB by which its partials may happen to meet lower.
    private const int DeepOfAll = 5;
    private const double Meeting = 2;

    // Later than this after the old note's end a short room has died away: that nothing is heard says nothing.
    private const double Soon = 0.07;

    private readonly SampleStore samples;
    private readonly RoughTrack track;
    private readonly List<Change> changes = [];
    private double[] shape = [];

    private readonly record struct Reading(double Lag, double Tail, double Control);

    // Seconds from pitch to pitch; what is heard afterwards; and the lowest level between them against the old note's, dB, so many seconds after its end.
    private readonly record struct Change(double Way, Reading[] Readings, double Bottom, double Age);

    private TailReader(SampleStore samples, RoughTrack track) => (this.samples, this.track) = (samples, track);

    /// <summary>How the room answers; null with <c>Known</c> where it surely adds nothing that matters.</summary>
    /// <param name="samples">The recording.</param>
    /// <param name="track">Its pitch.</param>
    /// <param name="notes">All notes heard, in any order.</param>
    public static (bool Known, Decay? Decay) Of(SampleStore samples, RoughTrack track, IEnumerable<Stretch> notes)
    {
        var reader = new TailReader(samples, track);
        var ordered = notes.OrderBy(n => n.From).ToList();
        var pairs = ordered.Zip(ordered.Skip(1)).Where(p => p.Second.From - p.First.To is >= -2 and <= 30 && p.First.To - p.First.From >= 25 && p.Second.To - p.Second.From >= 25).ToList();
        var step = Math.Max(1, (pairs.Count + MostChanges - 1) / MostChanges);
        for (var i = 0; i < pairs.Count; i += step) reader.Read(pairs[i].First, pairs[i].Second);
        return reader.Fitted();
    }

    private (bool Known, Decay? Decay) Fitted()
    {
        // Where the air stopped between two notes the tail is older than elsewhere.
        var quick = changes.Where(c => c.Way <= Quick).ToList();
        var taken = quick.Count >= FewestChanges ? quick : changes;
        if (taken.Count < FewestChanges) return (false, null);
        var line = new List<(double Lag, double Db)>();
        var seen = Enumerable.Range(0, Lags).Select(i => taken.Where(c => i < c.Readings.Length).Select(c => c.Readings[i]).ToList()).TakeWhile(at => at.Count >= Math.Max(FewestChanges, taken.Count / 2))
            .Select(at => new Reading(OrderStatistic.Median(at.Select(r => r.Lag)), OrderStatistic.Median(at.Select(r => r.Tail)), OrderStatistic.Median(at.Select(r => r.Control)))).ToList();
        double[] last = [.. seen.Skip(2 * seen.Count / 3).Select(s => s.Tail)];
        var settled = last.Length == 0 ? 0 : OrderStatistic.At(last, last.Length / 2);
        foreach (var at in seen)
        {
            // The way from note to note leaves a tail of its own beside the harmonics; what is left at the end is none of either.
            var floor = Math.Min(at.Control, settled);
            if (at.Tail < Visible * floor) break;
            line.Add((at.Lag, Energy.ToDb(at.Tail - floor) + MedianToMean));
        }

        if (line.Count < FewestLags || line[0].Db - line[^1].Db < LeastFall) return (seen.Count > 0 && seen[0].Lag < Soon && seen[0].Tail < Math.Pow(10, Matters / 10), null);
        var (begins, slope) = MathNet.Numerics.LinearRegression.SimpleRegression.Fit([.. line.Select(l => l.Lag)], [.. line.Select(l => l.Db)]);

        // What the window still holds of the way from note to note is softer and gone at once.
        if (line[0].Db < Loud) return (false, null);

        // What does not die away is no room: a drone, a hum, another player.
        if (slope > -60 / LongestRoom) return (false, null);

        // A room dies away evenly in dB. A hard tongue's note goes the faster the longer, and would begin louder than it was.
        var straight = MathNet.Numerics.GoodnessOfFit.RSquared(line.Select(l => begins + (slope * l.Lag)), line.Select(l => l.Db));
        if (straight < (line.Count < SureLags ? StraightShort : Straight) || begins > Loudest || Bend(line) > MostBend) return (false, null);
        return (true, new Decay(-60 / slope, Math.Min(Decay.LargestShare, Math.Pow(10, Math.Min(begins, MostOf(slope)) / 10))) { IsHeardInside = true });
    }

    // In a dip the tail lies no higher than all that sounds there, but for how its partials happen to meet: what the deepest ones leave room for.
    private double MostOf(double slope) => OrderStatistic.At(changes.Select(c => c.Bottom - (slope * c.Age)), changes.Count / DeepOfAll) + Meeting;

    // How much faster the second half falls than the first.
    private static double Bend(List<(double Lag, double Db)> line)
    {
        var half = line.Count / 2;
        return (line[half].Db - line[^1].Db) / (line[^1].Lag - line[half].Lag) * (line[half].Lag - line[0].Lag) / Math.Max(0.1, line[0].Db - line[half].Db);
    }

    private void Read(Stretch a, Stretch b)
    {
        if (PitchOf(a) is not { } old || PitchOf(b) is not { } next || Math.Abs(12 * Math.Log2(next / old)) < LeastSemitones) return;
        if (Turn(a, b, old, next) is not var (ends, begins)) return;
        var (window, oldWindow) = (Math.Max(Shortest, Periods / next), Math.Max(Shortest, Periods / old));
        if (Math.Max(window, oldWindow) > Longest) return;
        var oldFrom = Math.Max((a.From * Hop) + 0.05, ends - oldWindow - 0.1);
        if (ends - oldWindow <= oldFrom) return;
        var places = Places(old, next, Lobe / window);
        if (places.Count == 0) return;
        double[] tails = [.. places.Select(p => p.Tail)];
        var (early, late) = (Powers(oldFrom, oldWindow, tails), Powers(ends - oldWindow, oldWindow, tails));
        double[] before = [.. early.Zip(late, (x, y) => (x + y) / 2)];
        var strong = Enumerable.Range(0, places.Count).Where(i => before[i] > 0 && before[i] >= Weakest * before.Max()).OrderByDescending(i => before[i]).Take(MostPlaces).ToArray();
        var lags = Math.Min(Lags, (int)Math.Floor((((b.To * Hop) - Edge - window - begins - Reached) / Step) + 1));
        if (strong.Length == 0 || lags < SureLags) return;
        var whole = strong.Sum(i => before[i]);
        double[] hz = [.. strong.Select(i => places[i].Tail), .. strong.Select(i => places[i].Control)];
        var readings = new Reading[lags];
        for (var i = 0; i < lags; i++)
        {
            var from = begins + Reached + (i * Step);
            var powers = Powers(from, window, hz);
            readings[i] = new(from + (window / 2) - ends, powers.Take(strong.Length).Sum() / whole, powers.Skip(strong.Length).Sum() / whole);
        }

        var (bottom, age) = BottomOf(a, ends, begins);
        changes.Add(new(begins - ends, readings, bottom, age));
    }

    private (double Db, double Age) BottomOf(Stretch a, double ends, double begins)
    {
        var (from, to) = ((int)Math.Round(ends / Hop), Math.Min(track.Count, (int)Math.Round(begins / Hop) + 2));
        var lowest = Enumerable.Range(from, Math.Max(1, to - from)).MinBy(i => track.Db[i]);
        return (track.Db[lowest] - LevelOf(a), (lowest * Hop) - ends);
    }

    private double LevelOf(Stretch note) => OrderStatistic.At(track.Db.AsSpan(note.From..note.To).ToArray(), (note.To - note.From) / 2);

    // The middle half of a note's own frames.
    private double? PitchOf(Stretch note)
    {
        var quarter = (note.To - note.From) / 4;
        double[] hz = [.. Enumerable.Range(note.From + quarter, note.To - note.From - (2 * quarter)).Where(i => i < track.Count && track.Hz[i] > 0).Select(i => track.Hz[i])];
        return hz.Length < 5 ? null : OrderStatistic.At(hz, hz.Length / 2);
    }

    // When the old pitch was last there, and the new one first, seconds; null where they lie too far apart to be one change.
    private (double Ends, double Begins)? Turn(Stretch a, Stretch b, double old, double next)
    {
        const int LongestWay = 30, LongestFall = 30;
        const double Fallen = 6;
        bool Is(int i, double hz) => i >= 0 && i < track.Count && track.Hz[i] > 0 && Math.Abs(1200 * Math.Log2(track.Hz[i] / hz)) < SamePitch;
        var last = Math.Min(b.From + 20, b.To);
        while (last > a.From && !Is(last, old)) last--;
        var first = last + 1;
        while (first < b.To && !(Is(first, next) && Is(first + 2, next))) first++;
        if (first - last > LongestWay || first >= b.To) return null;

        // Where the air stopped the room alone goes on at the old pitch: its tail is as old as the fall of the level.
        var level = LevelOf(a);
        var full = last;
        while (full > Math.Max(a.From, last - LongestFall) && track.Db[full] < level - Fallen) full--;
        return (full * Hop, first * Hop);
    }

    // Harmonics of the old note that lie clear of all of the new one's, each with a place near it that lies clear of both.
    private static List<(double Tail, double Control)> Places(double old, double next, double clear)
    {
        static double Away(double hz, double of) => Math.Abs(hz - (Math.Max(1, Math.Round(hz / of)) * of));
        var places = new List<(double, double)>();
        for (var hz = old; hz < Highest; hz += old)
        {
            if (Away(hz, next) < clear) continue;
            foreach (var off in (double[])[1, -1, 1.3, -1.3])
            {
                var control = hz + (off * clear);
                if (Away(control, next) < clear || Away(control, old) < 0.999 * clear) continue;
                places.Add((hz, control));
                break;
            }
        }

        return places;
    }

    // Power of some frequencies in a Blackman window.
    private double[] Powers(double from, double length, ReadOnlySpan<double> hz)
    {
        var first = (long)Math.Round(from * FinePitch.Rate);
        var count = (int)Math.Round(length * FinePitch.Rate);
        var powers = new double[hz.Length];
        if (first < 0 || first + count > samples.Length) return powers;
        var block = Windowed(first, count);
        for (var g = 0; g < hz.Length; g += AtOnce) PowersOf(block, hz[g..Math.Min(g + AtOnce, hz.Length)], powers.AsSpan(g));
        return powers;
    }

    // Each frequency turns by itself: two vectors of them at a time keep the processor busy.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void PowersOf(double[] block, ReadOnlySpan<double> hz, Span<double> powers)
    {
        Span<double> cos = stackalloc double[AtOnce], sin = stackalloc double[AtOnce];
        for (var k = 0; k < hz.Length; k++) (sin[k], cos[k]) = Math.SinCos(2 * Math.PI * hz[k] / FinePitch.Rate);
        var half = Vector<double>.Count;
        var (c, d, s, t) = (new Vector<double>(cos), new Vector<double>(cos[half..]), new Vector<double>(sin), new Vector<double>(sin[half..]));
        var (re, im, x, y) = (Vector<double>.Zero, Vector<double>.Zero, Vector<double>.One, Vector<double>.Zero);
        var (re2, im2, x2, y2) = (re, im, x, y);
        foreach (var b in block)
        {
            (re, im, re2, im2) = (re + (b * x), im + (b * y), re2 + (b * x2), im2 + (b * y2));
            (x, y) = ((x * c) - (y * s), (x * s) + (y * c));
            (x2, y2) = ((x2 * d) - (y2 * t), (x2 * t) + (y2 * d));
        }

        ((re * re) + (im * im)).CopyTo(cos);
        ((re2 * re2) + (im2 * im2)).CopyTo(cos[half..]);
        cos[..hz.Length].CopyTo(powers);
    }

    // Weighted so that a steady tone gives the square of half its amplitude.
    private double[] Windowed(long first, int count)
    {
        var block = new float[count];
        samples.CopyTo(first, block);
        if (shape.Length != count) shape = [.. Enumerable.Range(0, count).Select(i => (0.42 - (0.5 * Math.Cos(2 * Math.PI * i / count)) + (0.08 * Math.Cos(4 * Math.PI * i / count))) / (0.42 * count))];
        var weighted = new double[count];
        for (var i = 0; i < count; i++) weighted[i] = shape[i] * block[i];
        return weighted;
    }
}
