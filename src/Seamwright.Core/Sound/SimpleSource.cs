using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

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
    public static SimpleTake Render(Plan plan, Performance performance, SimpleSourceSettings? settings = null)
    {
        var used = settings ?? SimpleSourceSettings.Default;
        Check(plan, performance, used);
        var paths = new Paths(plan, performance, used);
        var samples = new float[used.Rate.ToSamples(new Seconds(paths.Duration))];
        Fill(paths, used, samples);
        return new SimpleTake(samples, used.Rate, TruthOf(plan, paths, used));
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

    private static ToneMoment Moment(Paths paths, double t) => new(Math.Pow(2, paths.PitchAt(t)), paths.LevelAt(t), paths.UnrestAt(t));

    private static TakeTruth TruthOf(Plan plan, Paths paths, SimpleSourceSettings settings)
    {
        var notes = plan.Notes.Select(n => new NoteTruth { Index = n.Note.Index, Pitch = n.Note.Pitch }).ToArray();
        for (var i = 0; i < paths.Sounding.Length; i++)
        {
            var (onset, offset, level) = paths.NoteEdges(i);
            var planned = plan.Notes[paths.Sounding[i]];
            var sounds = paths.Passages.IsEmpty ? paths.PitchAt(offset) : i == 0 ? paths.Passages[0].FromPitch : paths.Passages[i - 1].ToPitch;
            notes[paths.Sounding[i]] = notes[paths.Sounding[i]] with
            {
                Onset = new(onset),
                Offset = new(offset),
                Level = new(settings.Level.Value + level),
                Cents = new Hertz(Math.Pow(2, sounds)).Above(planned.Note.Pitch.Frequency(plan.Instrument.A4)),
            };
        }

        var changes = plan.Changes.Select(c => new ChangeTruth { Index = c.Index }).ToArray();
        for (var i = 0; i < paths.Passages.Length; i++)
        {
            if (paths.Passages[i].ToNote == paths.Passages[i].FromNote + 1) changes[paths.Passages[i].FromNote] = PassageTruth.Of(paths, i);
        }

        return new TakeTruth { Notes = [.. notes], Changes = [.. changes] };
    }

    private static void Check(Plan plan, Performance performance, SimpleSourceSettings settings)
    {
        if (performance.Changes.Length != plan.Changes.Length)
            throw new ArgumentException($"The plan has {plan.Changes.Length} changes and the performance {performance.Changes.Length}.", nameof(performance));
        if (performance.Cents.Length != plan.Notes.Length || (!performance.Levels.IsDefaultOrEmpty && performance.Levels.Length != plan.Notes.Length))
            throw new ArgumentException($"The plan has {plan.Notes.Length} notes; the performance must give cents (and levels, if any) for each.", nameof(performance));
        if (!(performance.TempoRatio is >= 0.1 and <= 10))
            throw new ArgumentException($"A tempo ratio lies between 0.1 and 10, not {performance.TempoRatio}.", nameof(performance));
        if (performance.Changes.FirstOrDefault(c => !IsPossible(c)) is { } wrong)
            throw new ArgumentException($"No execution can be {wrong}.", nameof(performance));
        if (settings.Validate() is { IsEmpty: false } problems)
            throw new ArgumentException(string.Join(" ", problems), nameof(settings));
    }

    private static bool IsPossible(ChangeExecution c) =>
        new[] { c.Move.Value, c.DipWidth.Value, c.Dip.Value, c.Gap.Value, c.Rest.Value, c.Bump.Value }.All(v => v >= 0 && double.IsFinite(v))
        && c.Break.Value > 0 && c.BreakAt is >= 0 and <= 1 && double.IsFinite(c.Centre.Value) && double.IsFinite(c.DipOffset.Value)
        && (c.Crack is null || (c.Crack.Partial >= 1 && c.Crack.Duration.Value > 0));
}
