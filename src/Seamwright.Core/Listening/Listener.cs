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

    // Its matrices have a handful of columns: sharing them out over threads costs more than it saves, and waiting threads burn what the other core is for.
    static Listener() => MathNet.Numerics.Control.UseSingleThread();

    /// <summary>Measures a take. A silent or unrecognisable one is a take whose notes were not found, with a problem that says so.</summary>
    /// <param name="recording">Any rate.</param>
    /// <param name="expected">What was asked.</param>
    /// <param name="settings">Null for the defaults.</param>
    /// <exception cref="ArgumentException">A setting is out of range.</exception>
    public static Take Listen(Recording recording, Plan expected, ListeningSettings? settings = null)
    {
        var ear = new LiveEar(recording.Rate, settings, PitchesOf(expected));
        ear.Push(recording.Samples.Span);
        ear.MarkDamaged(recording.Damage);
        return Listen(ear, expected, settings);
    }

    /// <summary>Measures what an ear has heard; nothing can be pushed into it afterwards.</summary>
    /// <param name="ear">Pushed full; best made with <see cref="PitchesOf"/>.</param>
    /// <param name="expected">What was asked.</param>
    /// <param name="settings">Null for the defaults.</param>
    /// <exception cref="ArgumentException">A setting is out of range.</exception>
    public static Take Listen(LiveEar ear, Plan expected, ListeningSettings? settings = null)
    {
        var s = settings ?? ListeningSettings.Default;
        if (s.Validate() is { IsEmpty: false } wrong) throw new ArgumentException(string.Join(" ", wrong), nameof(settings));
        if (expected.Notes.IsEmpty) return Nothing(expected, new Problem("the part", "has no notes.", "Choose another part.", Severity.Warning));
        if (ear.Heard.Value < ShortestRecording)
            return Nothing(expected, new Problem("the recording", $"lasts {ear.Heard}.", "Record the whole part.", Severity.Warning));
        return Measured(ear.Finish(), expected, s);
    }

    /// <summary>The pitches an ear should expect of a part.</summary>
    public static IEnumerable<Hertz> PitchesOf(Plan plan) => plan.Notes.Select(n => n.Note.Pitch.Frequency(plan.Instrument.A4)).Distinct();

    private static Take Measured(HeardSound sound, Plan expected, ListeningSettings s)
    {
        var track = sound.Track;
        var tuning = 1200 * Math.Log2(expected.Instrument.A4.Value / 440);
        var found = AttemptFinder.Of(track, expected, Hop, tuning, s.NoteTolerance.Value);
        track.Settle();
        var room = RoomAnswer.Of(sound, [.. found.Attempts.SelectMany(a => a.Stretches).OfType<Stretch>()]);
        var meter = new AttemptMeter(sound, expected, s, room);
        var measured = found.Attempts.Select(meter.Measure).ToList();
        var best = found.Best < 0 ? null : measured[found.Best].Attempt;
        var brightness = best is null ? [] : BrightnessReader.Of(track, sound.Samples, best.Notes, expected);
        sound.Samples.Clear();
        TrackMender.Mend(track, measured.SelectMany(m => m.Glides));
        TrackMender.Mend(track, measured.SelectMany(m => m.Ways));
        var nothing = best is null ? Nothing(expected) : null;
        var notes = best?.Notes ?? nothing!.Notes;
        return new Take
        {
            Notes = notes,
            Changes = best?.Changes ?? nothing!.Changes,
            Track = TrackOf(track),
            Brightness = brightness,
            TempoRatio = best?.TempoRatio,
            Attempts = [.. measured.Select(m => m.Attempt)],
            Unmatched = found.Unmatched,
            Damage = sound.Damage,
            Room = RoomReader.Describe(track, room, sound.Clipped),
            Problems = [.. Remarks(notes, track), .. RoomReader.Remarks(room)],
        };
    }

    internal static Track TrackOf(RoughTrack track)
    {
        var frames = new Frame[track.Count];
        for (var i = 0; i < frames.Length; i++) frames[i] = new Frame(track.Hz[i] > 0 ? new Hertz(track.Hz[i]) : null, new(track.Db[i]), track.Strength[i]);
        return new Track { Start = Seconds.Zero, Hop = new(Hop), Frames = System.Runtime.InteropServices.ImmutableCollectionsMarshal.AsImmutableArray(frames) };
    }

    private static IEnumerable<Problem> Remarks(ImmutableArray<HeardNote> notes, RoughTrack track)
    {
        if (track.Hz.All(h => h <= 0)) return [new("the recording", "no tone is heard in it.", "Check the microphone and that the right file was named.")];
        if (!notes.Any(n => n.Found)) return [new("the recording", "none of the part's notes were recognised.", "Check that it is this part, on this instrument, at about this tempo.")];
        return NotFound(notes);
    }

    /// <summary>What to say where some of the notes were not found and nothing else was in their place; nothing where all were.</summary>
    internal static IEnumerable<Problem> NotFound(ImmutableArray<HeardNote> notes)
    {
        var lost = notes.Count(n => n is { Found: false, Instead: null });
        if (lost > 0) yield return new("the recording", $"{lost} of {notes.Length} notes {(lost == 1 ? "was" : "were")} not found.", "What was found is measured.");
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
