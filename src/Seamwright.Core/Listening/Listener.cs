using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Listening;

/// <summary>Hears a recording of a planned line: notes, changes, pitch and level.</summary>
public static class Listener
{
    /// <summary>Seconds between frames of the track; frame 0 lies at time 0, with no lag.</summary>
    public const double Hop = 0.005;

    private const double ShortestRecording = 0.1;

    // Beyond a note's stretch of frames its edge is looked for no further, less far where no pitch is heard: other sound may be as loud.
    private const double EdgeBeyond = 0.1;
    private const double UnpitchedEdge = 0.02;

    /// <summary>Measures a take. A silent or unrecognisable one is a take whose notes were not found, with a problem that says so.</summary>
    /// <param name="recording">Any rate.</param>
    /// <param name="expected">What was asked.</param>
    /// <param name="settings">Null for the defaults.</param>
    /// <exception cref="ArgumentException">A setting is out of range.</exception>
    public static Take Listen(Recording recording, Plan expected, ListeningSettings? settings = null)
    {
        var s = settings ?? ListeningSettings.Default;
        if (s.Validate() is { IsEmpty: false } wrong) throw new ArgumentException(string.Join(" ", wrong), nameof(settings));
        if (recording.Duration.Value < ShortestRecording) return Nothing(expected, new Problem("the recording", $"lasts {recording.Duration}.", "Record the whole part.", Severity.Warning));
        if (expected.Notes.IsEmpty) return Nothing(expected, new Problem("the part", "has no notes.", "Choose another part.", Severity.Warning));
        return Heard(recording, expected, s);
    }

    private static Take Heard(Recording recording, Plan expected, ListeningSettings s)
    {
        var samples = recording.Samples.Span;
        var coarse = Resampler.Convert(samples, recording.Rate.Value, PeriodFinder.Rate);
        var fineSamples = Resampler.Convert(samples, recording.Rate.Value, FinePitch.Rate);
        var energy = new Energy(fineSamples, FinePitch.Rate);
        var pitches = expected.Notes.Select(n => n.Note.Pitch.Frequency(expected.Instrument.A4).Value).ToArray();
        var rough = RoughTrack.Of(coarse, energy, Hop, [.. pitches.Distinct()], s);
        var tuning = 1200 * Math.Log2(expected.Instrument.A4.Value / 440);
        var found = AttemptFinder.Of(rough, expected, Hop, tuning, s.NoteTolerance.Value);
        var fine = new FinePitch(fineSamples);
        var meter = new ChangeMeter(energy, fine, s, RoomLevel(rough));
        ImmutableArray<Attempt> attempts = [.. found.Attempts.Select(a => HeardAttempt(a, expected, pitches, rough, energy, fine, meter, s))];
        var best = found.Best < 0 ? null : attempts[found.Best];
        var nothing = best is null ? Nothing(expected) : null;
        var notes = best?.Notes ?? nothing!.Notes;
        return new Take
        {
            Notes = notes,
            Changes = best?.Changes ?? nothing!.Changes,
            Track = TrackOf(rough),
            TempoRatio = best?.TempoRatio,
            Attempts = attempts,
            Unmatched = found.Unmatched,
            Problems = [.. Remarks(notes, rough)],
        };
    }

    private static Attempt HeardAttempt(
        FoundAttempt found, Plan expected, double[] written, RoughTrack rough, Energy energy, FinePitch fine, ChangeMeter meter, ListeningSettings s)
    {
        var pitches = written.Select(p => p * Math.Pow(2, found.Transposition / 12.0)).ToArray();
        var stretches = found.Stretches;
        var steady = stretches.Select((x, i) => x is { } y ? NoteMeter.Measure(y, Hop, rough, energy, fine, s.EarWindow.Value, pitches[i]) : null).ToArray();
        ImmutableArray<HeardChange> changes = [.. expected.Changes.Select(c => ChangeOf(c, stretches, steady, meter))];
        ImmutableArray<HeardNote> notes = [.. expected.Notes.Select((n, i) => NoteOf(n, i, stretches, steady, changes, rough, pitches[i], s))];
        var onsets = notes.Where(n => n.Onset is not null).Select(n => (expected.Notes[n.Index].Note.StartTime.Value, n.Onset!.Value.Value)).ToList();
        return new Attempt
        {
            Start = notes.FirstOrDefault(n => n.Found)?.Onset ?? new(found.From * Hop),
            End = notes.LastOrDefault(n => n.Found)?.Offset ?? new(found.To * Hop),
            Notes = notes,
            Changes = changes,
            Transposition = found.Transposition,
            TempoRatio = Alignment.Ratio(onsets) is { } ratio ? 1 / ratio : null,
        };
    }

    private static HeardChange ChangeOf(NoteChange change, Stretch?[] stretches, SteadyNote?[] steady, ChangeMeter meter)
    {
        var (a, b) = (steady[change.FromNote], steady[change.ToNote]);
        if (a is not { } from || b is not { } to) return new HeardChange { Index = change.Index, Found = false };
        return meter.Measure(change, from, to, stretches[change.ToNote]!.Value.From * Hop);
    }

    private static HeardNote NoteOf(
        PlannedNote planned, int i, Stretch?[] stretches, SteadyNote?[] steady, ImmutableArray<HeardChange> changes, RoughTrack rough, double hz, ListeningSettings s)
    {
        if (stretches[i] is not { } stretch || steady[i] is not { } note)
            return new HeardNote { Index = i, Pitch = planned.Note.Pitch, Found = false };
        var before = i > 0 ? Seam(changes[i - 1]) : null;
        var after = i < changes.Length ? Seam(changes[i]) : null;
        var edge = note.Db - s.OnsetBelowNote.Value;
        return new HeardNote
        {
            Index = i,
            Pitch = planned.Note.Pitch,
            Found = true,
            Onset = new(before ?? Edge(rough, stretch.From, edge, -1, note.Hz, stretches.Take(i).LastOrDefault(x => x is not null)?.To ?? 0)),
            Offset = new(after ?? Edge(rough, stretch.To - 1, edge, 1, note.Hz, (stretches.Skip(i + 1).FirstOrDefault(x => x is not null)?.From ?? rough.Count) - 1)),
            Cents = new(1200 * Math.Log2(note.Hz / hz)),
            Level = new(note.Db),
        };
    }

    // Joined notes give way to each other where the pitch is half way, or where the tongue touches; with the air stopped each has its own edge.
    private static double? Seam(HeardChange change)
    {
        if (!change.Found || change.Gap?.Value > 0) return null;
        return change.GlideCentre?.Value ?? change.DipCentre?.Value;
    }

    // Where the level passes the note's edge, searched from inside the note: outward, not into
    // a neighbour, while it is loud and no other pitch sounds, else inward.
    private static double Edge(RoughTrack rough, int frame, double edge, int outward, double hz, int last)
    {
        var i = Math.Clamp(frame, 0, rough.Count - 1);
        var (pitched, unpitched) = (i + (outward * (int)(EdgeBeyond / Hop)), i + (outward * (int)(UnpitchedEdge / Hop)));
        if (rough.Db[i] >= edge)
            while (i != last && i != pitched && rough.Db[i + outward] >= edge && !IsOther(rough.Hz[i + outward], hz, (i - unpitched) * outward >= 0)) i += outward;
        else
            while (i - outward >= 0 && i - outward < rough.Count && rough.Db[i] < edge) i -= outward;
        return i * Hop;
    }

    private static bool IsOther(double heard, double hz, bool noneIsOther) => heard > 0 ? Math.Abs(Math.Log2(heard / hz)) > 0.05 : noneIsOther;

    private static double RoomLevel(RoughTrack rough)
    {
        var sorted = rough.Db.Order().ToArray();
        return Math.Min(sorted[sorted.Length / 50], sorted[(int)(0.98 * (sorted.Length - 1))] - 40);
    }

    private static Track TrackOf(RoughTrack rough) => new()
    {
        Start = Seconds.Zero,
        Hop = new(Hop),
        Frames = [.. Enumerable.Range(0, rough.Count).Select(i => new Frame(rough.Hz[i] > 0 ? new Hertz(rough.Hz[i]) : null, new(rough.Db[i]), rough.Strength[i]))],
    };

    private static IEnumerable<Problem> Remarks(ImmutableArray<HeardNote> notes, RoughTrack rough)
    {
        var found = notes.Count(n => n.Found);
        if (rough.Hz.All(h => h <= 0))
            yield return new("the recording", "no tone is heard in it.", "Check the microphone and that the right file was named.");
        else if (found == 0)
            yield return new("the recording", "none of the part's notes were recognised.", "Check that it is this part, on this instrument, at about this tempo.");
        else if (found < notes.Length)
            yield return new("the recording", $"{notes.Length - found} of {notes.Length} notes were not found.", "What was found is measured.");
    }

    private static Take Nothing(Plan expected, params ImmutableArray<Problem> problems) => new()
    {
        Notes = [.. expected.Notes.Select((n, i) => new HeardNote { Index = i, Pitch = n.Note.Pitch, Found = false })],
        Changes = [.. expected.Changes.Select(c => new HeardChange { Index = c.Index, Found = false })],
        Track = new Track { Start = Seconds.Zero, Hop = new(Hop), Frames = [] },
        TempoRatio = null,
        Problems = problems,
    };
}
