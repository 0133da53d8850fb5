using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;

namespace Seamwright.TestSound;

/// <summary>Plays a plan exactly as it is told to, faults included, and tells exactly what it played.</summary>
/// <remarks>For demonstrations and for testing ears: pitch follows arm and partials, level follows tongue and air. No room, no
/// attack noise, no lip dynamics.</remarks>
public static class SimpleSource
{
    // Pitch and level are looked up so often and joined by straight lines: 0.33 ms at 48 kHz.
    private const int BlockLength = 16;

    /// <summary>Renders a performance.</summary>
    /// <param name="plan">Notes without a setting stay silent.</param>
    /// <param name="performance">One execution for each change, one figure for each note.</param>
    /// <param name="settings">Default <see cref="SimpleSourceSettings.Default"/>.</param>
    /// <exception cref="ArgumentException">The performance does not fit the plan, or a setting is out of range.</exception>
    public static SoundedTake Render(Plan plan, Performance performance, SimpleSourceSettings? settings = null)
    {
        var used = settings ?? SimpleSourceSettings.Default;
        performance.Check(plan);
        if (used.Validate() is { IsEmpty: false } problems) throw new ArgumentException(string.Join(" ", problems), nameof(settings));
        var paths = new Paths(plan, performance, used.Vibrato, used.VibratoRate);
        var samples = new float[used.Rate.ToSamples(new Seconds(paths.Duration))];
        Fill(paths, used, samples);
        return new SoundedTake(samples, used.Rate, TruthOf(plan, paths, used));
    }

    private static void Fill(Paths paths, SimpleSourceSettings settings, Span<float> samples)
    {
        var rate = (double)settings.Rate.Value;
        var kernel = new ToneKernel(rate, settings.Level.Value, settings.Room.Value, settings.Air.Value, settings.Seed);
        var before = Moment(paths, 0);
        for (var at = 0; at < samples.Length; at += BlockLength)
        {
            var length = Math.Min(BlockLength, samples.Length - at);
            var after = Moment(paths, (at + length) / rate);
            kernel.Process(before, after, samples.Slice(at, length));
            before = after;
        }
    }

    private static ToneMoment Moment(Paths paths, double t) => new(Math.Pow(2, paths.Pitch.PitchAt(t)), paths.Level.At(t), Unrest.At(paths, t));

    private static TakeTruth TruthOf(Plan plan, Paths paths, SimpleSourceSettings settings)
    {
        var notes = plan.Notes.Select(n => new NoteTruth { Index = n.Note.Index, Pitch = n.Note.Pitch }).ToArray();
        for (var i = 0; i < paths.Sounding.Length; i++)
        {
            var (onset, offset) = paths.NoteEdges(i);
            var planned = plan.Notes[paths.Sounding[i]];
            var sounds = paths.Passages.IsEmpty ? paths.Pitch.PitchAt(offset) : i == 0 ? paths.Passages[0].FromPitch : paths.Passages[i - 1].ToPitch;
            notes[paths.Sounding[i]] = notes[paths.Sounding[i]] with
            {
                Onset = new(onset),
                Offset = new(offset),
                Level = new(settings.Level.Value + paths.Level.OfNote(i, (onset + offset) / 2)),
                Cents = new Hertz(Math.Pow(2, sounds)).Above(planned.Note.Pitch.Frequency(plan.Instrument.A4)),
            };
        }

        var changes = plan.Changes.Select(c => new ChangeTruth { Index = c.Index }).ToArray();
        for (var i = 0; i < paths.Passages.Length; i++)
        {
            if (paths.Passages[i].ToNote == paths.Passages[i].FromNote + 1) changes[paths.Passages[i].FromNote] = PathsTruth.Of(paths, i);
        }

        return new TakeTruth { Notes = [.. notes], Changes = [.. changes] };
    }
}
