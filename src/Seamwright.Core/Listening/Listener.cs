using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Listening;

/// <summary>Hears a recording of a planned line: notes, changes, pitch and level.</summary>
public static class Listener
{
    /// <summary>Seconds between frames of the track; frame 0 lies at time 0, with no lag.</summary>
    public const double Hop = LiveEar.Hop;

    private const double ShortestRecording = 0.1;

    /// <summary>Measures a take. A silent or unrecognisable one is a take whose notes were not found, with a problem that says so.</summary>
    /// <param name="recording">Any rate.</param>
    /// <param name="expected">What was asked.</param>
    /// <param name="settings">Null for the defaults.</param>
    /// <exception cref="ArgumentException">A setting is out of range.</exception>
    public static Take Listen(Recording recording, Plan expected, ListeningSettings? settings = null)
    {
        var s = settings ?? ListeningSettings.Default;
        if (s.Validate() is { IsEmpty: false } wrong) throw new ArgumentException(string.Join(" ", wrong), nameof(settings));
        if (recording.Duration.Value < ShortestRecording) return Nothing(expected, new("the recording", $"lasts {recording.Duration}.", "Record the whole part.", Severity.Warning));
        if (expected.Notes.IsEmpty) return Nothing(expected, new("the part", "has no notes.", "Choose another part.", Severity.Warning));
        var ear = new LiveEar(recording.Rate, s, PitchesOf(expected));
        ear.Push(recording.Samples.Span);
        return Measured(ear.Finish(), expected, s);
    }

    /// <summary>Measures what an ear has heard so far; nothing can be pushed into it afterwards.</summary>
    /// <param name="ear">Pushed full; best made with the part's pitches.</param>
    /// <param name="expected">What was asked.</param>
    /// <param name="settings">Null for the defaults.</param>
    public static Take Listen(LiveEar ear, Plan expected, ListeningSettings? settings = null)
    {
        if (expected.Notes.IsEmpty) return Nothing(expected, new("the part", "has no notes.", "Choose another part.", Severity.Warning));
        if (ear.Heard.Value < ShortestRecording) return Nothing(expected, new("the recording", $"lasts {ear.Heard}.", "Record the whole part.", Severity.Warning));
        return Measured(ear.Finish(), expected, settings ?? ListeningSettings.Default);
    }

    /// <summary>The pitches an ear should expect of a part.</summary>
    public static IEnumerable<Hertz> PitchesOf(Plan plan) => plan.Notes.Select(n => n.Note.Pitch.Frequency(plan.Instrument.A4)).Distinct();

    private static Take Measured(HeardSound sound, Plan expected, ListeningSettings s)
    {
        var rough = sound.Track;
        var pitches = expected.Notes.Select(n => n.Note.Pitch.Frequency(expected.Instrument.A4).Value).ToArray();
        var tuning = 1200 * Math.Log2(expected.Instrument.A4.Value / 440);
        var stretches = Alignment.Of(rough, expected, Hop, tuning, s.NoteTolerance.Value);
        var notesMeter = new NoteMeter(sound.Samples, rough, s.EarWindow.Value);
        var steady = stretches.Select((x, i) => x is { } found ? notesMeter.Measure(found, pitches[i]) : null).ToArray();
        var noise = RoomReader.NoiseOf(rough);
        var decay = RoomReader.DecayOf(rough, Ends(stretches), noise);
        var meter = new ChangeMeter(sound.Samples, s, noise, decay);
        var measured = expected.Changes.Select(c => ChangeOf(expected, c, stretches, steady, meter)).ToList();
        TrackMender.Mend(rough, measured.Select(m => m.Glide).OfType<FittedGlide>());
        ImmutableArray<HeardChange> changes = [.. measured.Select(m => m.Heard)];
        ImmutableArray<HeardNote> notes = [.. expected.Notes.Select((n, i) => NoteOf(n, i, stretches, steady, changes, rough, pitches[i], s))];
        var onsets = notes.Where(n => n.Onset is not null).Select(n => (expected.Notes[n.Index].Note.StartTime.Value, n.Onset!.Value.Value)).ToList();
        return new Take
        {
            Notes = notes,
            Changes = changes,
            Track = TrackOf(rough),
            TempoRatio = Alignment.Ratio(onsets) is { } ratio ? 1 / ratio : null,
            Room = RoomReader.Describe(rough, noise, decay, sound.Clipped),
            Problems = [.. Remarks(notes, rough)],
        };
    }

    private static (HeardChange Heard, FittedGlide? Glide) ChangeOf(Plan plan, NoteChange change, Stretch?[] stretches, SteadyNote?[] steady, ChangeMeter meter)
    {
        var (a, b) = (steady[change.FromNote], steady[change.ToNote]);
        if (a is not { } from || b is not { } to) return (new HeardChange { Index = change.Index, Found = false }, null);
        return meter.Measure(plan, change, from, to, stretches[change.ToNote]!.Value.From * Hop);
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
            Onset = new(before ?? Edge(rough, stretch.From, edge, -1)),
            Offset = new(after ?? Edge(rough, stretch.To - 1, edge, 1)),
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

    // Where the level passes the note's edge, searched from inside the note: outward while it is loud, else inward.
    private static double Edge(RoughTrack rough, int frame, double edge, int outward)
    {
        var i = Math.Clamp(frame, 0, rough.Count - 1);
        if (rough.Db[i] >= edge)
            while (i + outward >= 0 && i + outward < rough.Count && rough.Db[i + outward] >= edge) i += outward;
        else
            while (i - outward >= 0 && i - outward < rough.Count && rough.Db[i] < edge) i -= outward;
        return i * Hop;
    }

    // Notes that nothing follows at once.
    private static IEnumerable<int> Ends(Stretch?[] stretches)
    {
        const int Silence = 30;
        var found = stretches.OfType<Stretch>().OrderBy(x => x.From).ToList();
        for (var i = 0; i < found.Count; i++)
        {
            if (i + 1 == found.Count || found[i + 1].From - found[i].To > Silence) yield return found[i].To;
        }
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

    private static Take Nothing(Plan expected, Problem problem) => new()
    {
        Notes = [.. expected.Notes.Select((n, i) => new HeardNote { Index = i, Pitch = n.Note.Pitch, Found = false })],
        Changes = [.. expected.Changes.Select(c => new HeardChange { Index = c.Index, Found = false })],
        Track = new Track { Start = Seconds.Zero, Hop = new(Hop), Frames = [] },
        TempoRatio = null,
        Problems = [problem],
    };
}
