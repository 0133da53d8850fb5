using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.PlayAlong;

/// <summary>A held tonic, its fifth, or both, from the first sample to the last; it goes over where the key does.</summary>
/// <remarks>The tonic lies between F2 and E3, equal-tempered at the instrument's A4; the fifth above it just or equal.</remarks>
internal sealed class DroneFeed : ScheduledFeed
{
    private const int LowestTonic = 41;

    // Partials fall by 7 dB an octave or so: a plain, organ-like tone that small loudspeakers can still give.
    private static readonly double[] Partials = [1, 0.5, 0.3, 0.2, 0.13, 0.09, 0.06, 0.05];

    // In and out at the ends, and across a change of key.
    private static readonly Seconds Fade = new(0.3);

    private readonly List<Span> spans;
    private readonly long fade;
    private readonly double[] sum = new double[1024];
    private int first;

    public DroneFeed(Schedule schedule)
        : base(schedule)
    {
        fade = schedule.Rate.ToSamples(Fade);
        spans = [.. Keys(schedule).Select(k => new Span(k.From, k.To, Tones(schedule, k.Tonic)))];
    }

    /// <summary>Frequencies of a drone.</summary>
    /// <param name="tonic">Of the key.</param>
    /// <param name="a4">The instrument's.</param>
    /// <param name="notes">Which.</param>
    /// <param name="fifth">How the fifth is tuned.</param>
    public static IReadOnlyList<Hertz> Frequencies(PitchName tonic, Hertz a4, DroneNotes notes, FifthTuning fifth)
    {
        var midi = LowestTonic + ((((tonic.PitchClass - LowestTonic) % 12) + 12) % 12);
        var root = Pitch.FromMidi(midi).Frequency(a4);
        var above = fifth == FifthTuning.Just ? new Hertz(root.Value * 1.5) : root + new Cents(700);
        return notes switch { DroneNotes.Tonic => [root], DroneNotes.Fifth => [above], DroneNotes.Both => [root, above], _ => [] };
    }

    protected override void Add(long at, Span<float> block)
    {
        while (first < spans.Count && spans[first].To + fade <= at) first++;
        for (var i = first; i < spans.Count && spans[i].From < at + block.Length; i++) Add(spans[i], at, block);
    }

    protected override void Begin() => first = 0;

    private void Add(Span span, long at, Span<float> block)
    {
        for (var done = 0; done < block.Length; done += sum.Length)
        {
            var part = sum.AsSpan(0, Math.Min(sum.Length, block.Length - done));
            Tone(span, at + done, part);
            for (var i = 0; i < part.Length; i++) block[done + i] += (float)(part[i] * Envelope(span, at + done + i));
        }
    }

    // The phase is found anew from the sample's number, so that no error adds up; within a block sines follow by
    // sin(θ + ω) = 2·cos ω·sin θ − sin(θ − ω).
    private static void Tone(Span span, long at, Span<double> part)
    {
        part.Clear();
        foreach (var (step, amplitude) in span.Tones)
        {
            var phase = Math.IEEERemainder(step * at, 2 * Math.PI);
            double twice = 2 * Math.Cos(step), before = amplitude * Math.Sin(phase - step), now = amplitude * Math.Sin(phase);
            for (var i = 0; i < part.Length; i++)
            {
                part[i] += now;
                (before, now) = (now, (twice * now) - before);
            }
        }
    }

    private double Envelope(Span span, long n)
    {
        if (n >= span.From + fade && n < span.To - fade) return 1;
        var into = Rise((n - span.From) / (double)fade);
        return into * (span.To == Schedule.Length ? Rise((span.To - n) / (double)fade) : 1 - Rise((n - span.To) / (double)fade));
    }

    private static double Rise(double x)
    {
        var t = Math.Clamp(x, 0, 1);
        return t * t * (3 - (2 * t));
    }

    private static IEnumerable<(long From, long To, PitchName Tonic)> Keys(Schedule schedule)
    {
        var changes = new List<(long At, PitchName Tonic)> { (0, schedule.Rounds[0].Plan.Line.Bars[0].Key.Tonic) };
        foreach (var section in schedule.Sections)
        {
            var line = schedule.PlanOf(section).Line;
            if (section.Phrase is not { } phrase)
            {
                if (section.Kind == SectionKind.CountIn) Change(section.Start, line.Bars[0].Key.Tonic);
                continue;
            }

            for (var i = Phrases.IndexOfBar(line, phrase.From); i < line.Bars.Length && line.Bars[i].Start < phrase.To; i++)
            {
                var bar = line.Bars[i];
                Change(bar.Start > phrase.From ? schedule.TimeOf(section, bar.Start) : section.Start, bar.Key.Tonic);
            }
        }

        return changes.Select((c, i) => (c.At, i + 1 < changes.Count ? changes[i + 1].At : schedule.Length, c.Tonic));

        void Change(long at, PitchName tonic)
        {
            if (tonic != changes[^1].Tonic) changes.Add((at, tonic));
        }
    }

    private static List<(double Step, double Amplitude)> Tones(Schedule schedule, PitchName tonic)
    {
        var settings = schedule.Settings;
        var rate = (double)schedule.Rate.Value;
        var tones = Frequencies(tonic, schedule.Rounds[0].Plan.Instrument.A4, settings.Drone, settings.Fifth)
            .SelectMany(f => Partials.Select((a, k) => (Frequency: f.Value * (k + 1), Amplitude: a))).Where(t => t.Frequency < rate / 2).ToList();
        var power = tones.Sum(t => t.Amplitude * t.Amplitude / 2);
        var gain = Math.Pow(10, settings.DroneLevel.Value / 20) / Math.Sqrt(power);
        return tones.ConvertAll(t => (2 * Math.PI * t.Frequency / rate, gain * t.Amplitude));
    }

    private sealed record Span(long From, long To, List<(double Step, double Amplitude)> Tones);
}
