using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Listening.Free;

/// <summary>What was heard without a part.</summary>
/// <param name="Plan">The notes as they were heard, at the recording's own times and the player's own tuning, planned for the
/// instrument: settings are what the planner would take, not what the player did.</param>
/// <param name="Take">Measurements of the same notes and changes.</param>
public sealed record FreeTake(Plan Plan, Take Take);

/// <summary>Hears notes, changes, pitch and level in a recording of which no part is known.</summary>
public static class FreeListener
{
    public const string Title = "What was heard";

    private const double ShortestRecording = 0.1;

    // Notes whose steady part turns out to be none are tried an octave higher, then dropped, and the rest planned again, at most so often.
    private const int Rounds = 4;

    /// <summary>Measures whatever is played. Silence, speech and noise are takes with no notes and a problem that says so.</summary>
    /// <param name="recording">Any rate.</param>
    /// <param name="instrument">What it is probably played on.</param>
    /// <param name="settings">Null for the defaults.</param>
    /// <exception cref="ArgumentException">A setting is out of range.</exception>
    public static FreeTake Listen(Recording recording, Instrument instrument, ListeningSettings? settings = null)
    {
        var ear = new LiveEar(recording.Rate, settings);
        ear.Push(recording.Samples.Span);
        ear.MarkDamaged(recording.Damage);
        return Listen(ear, instrument, settings);
    }

    /// <summary>As the other, of what an ear has heard; nothing can be pushed into it afterwards.</summary>
    /// <param name="ear">Pushed full.</param>
    /// <param name="instrument">What it is probably played on.</param>
    /// <param name="settings">Null for the defaults.</param>
    /// <exception cref="ArgumentException">A setting is out of range.</exception>
    public static FreeTake Listen(LiveEar ear, Instrument instrument, ListeningSettings? settings = null)
    {
        var s = settings ?? ListeningSettings.Default;
        if (s.Validate() is { IsEmpty: false } wrong) throw new ArgumentException(string.Join(" ", wrong), nameof(settings));
        var sound = ear.Finish();
        return new FreeHearing(sound, instrument, s).Hear(ear.Heard.Value >= ShortestRecording, Rounds);
    }
}

/// <summary>One recording being heard without a part.</summary>
internal sealed class FreeHearing(HeardSound heard, Instrument instrument, ListeningSettings settings)
{
    private readonly RoughTrack track = heard.Track;

    public FreeTake Hear(bool longEnough, int rounds)
    {
        var sound = Sounding.Of(track, LiveEar.Hop, 0);
        if (!longEnough || sound.Count < 3) return Nothing(sound);
        var places = Boundaries.Find(sound);
        var tones = Tones.Of(sound, places);
        var notes = Played.Of(Repeats.Parted(Slides.WithoutSteps(HeldNotes.Of(sound), sound), places, sound), sound);
        var own = 1200 * Math.Log2(instrument.A4.Value / 440);
        var tuning = PlayersTuning.Of(notes, own);
        var horn = instrument.TunedTo(new Hertz(440) + new Cents(tuning ?? own));
        var lifted = new HashSet<int>();
        for (var round = 1; ; round++)
        {
            if (notes.Count == 0) return Nothing(sound);
            OctaveMender.Mend(track, sound, notes);
            var take = Measure(notes, sound, tones, horn, tuning is not null);
            if (round == rounds || take.Take.Notes.All(n => n.Found)) return take;
            notes = [.. notes.Select((n, i) => take.Take.Notes[i].Found ? n : Higher(n, lifted)).OfType<HeldNote>()];
        }
    }

    // A tone also repeats at twice its period: what is no note there may be one an octave higher.
    private static HeldNote? Higher(HeldNote note, HashSet<int> lifted) => lifted.Add(note.From) ? note with { Pitch = note.Pitch + 12 } : null;

    private FreeTake Measure(List<HeldNote> notes, Sounding sound, List<Tone> tones, Instrument horn, bool tuned)
    {
        var slides = Enumerable.Range(0, notes.Count - 1).Select(i => Slides.Between(notes[i], notes[i + 1], sound)).ToArray();
        var plan = PlanOf(FreeLine.Of(notes, slides, sound, 1200 * Math.Log2(horn.A4.Value / 440), FreeListener.Title), horn);
        var found = new FoundAttempt([.. notes.Select(n => (Stretch?)new Stretch(n.From, n.To))], 0, null);
        var room = RoomAnswer.Of(heard, [.. found.Stretches.OfType<Stretch>()]);
        var (attempt, glides, ways) = new AttemptMeter(heard, plan, settings, room).Measure(found);
        TrackMender.Mend(track, glides);
        TrackMender.Mend(track, ways);
        return new(plan, new Take
        {
            Notes = [.. attempt.Notes.Select(n => n with { PlayedSetting = null })],
            Changes = [.. attempt.Changes.Select(c => WithSlide(c, slides[c.Index]))],
            Track = Listener.TrackOf(track),
            TempoRatio = null,
            Damage = heard.Damage,
            Unmatched = Leftovers.Of(sound, plan, tones, [found]),
            Room = RoomReader.Describe(track, room, heard.Clipped),
            Problems = [.. Remarks(tuned, horn), .. RoomReader.Remarks(room)],
        });
    }

    // Nobody asked for these settings, so nothing forbids a teacher's way of tonguing; what is slurred was heard joined.
    private static Plan PlanOf(Line line, Instrument horn)
    {
        var plan = Planner.Plan(line, horn, new PlanSettings { Player = new Player { Legato = LegatoScope.AsWritten } }).Value;
        return plan with
        {
            Changes = [.. plan.Changes.Select(c => line.Notes[c.FromNote].GlissandoToNext && c.Kind != ChangeKind.Breath ? c with { Kind = ChangeKind.Glissando } : c)],
            Problems = [],
        };
    }

    // No beat is known, so no arm is early; and a long slide lies beyond the view of what measures quick ones.
    private static HeardChange WithSlide(HeardChange change, LongSlide? slide)
    {
        if (change.Arm is { } arm) change = change with { Arm = arm with { Lead = null } };
        if (slide is not { } way || !change.Found) return change;
        const double WithinView = 0.4;
        if (change.Glide is { } glide && way.Length < WithinView && Math.Abs(glide.Value - way.Length) < 0.25 * way.Length) return change;
        return change with
        {
            Glide = new(way.Length),
            GlideBounds = Around(way.Length),
            GlideCentre = new(way.Half),
            GlideCentreBounds = Around(way.Half),
            GlideSemitones = way.Semitones,
            AudibleGlide = new(way.Length),
            AudibleGlideBounds = Around(way.Length),
            Broke = false,
            Break = null,
            CaughtPitch = null,
            CaughtFor = null,
            Arm = null,
        };
    }

    // Read off frames, each end by half a frame and the window's blur.
    private static Bounds<Seconds> Around(double seconds) => new(new(seconds - 0.02), new(seconds + 0.02));

    private static IEnumerable<Problem> Remarks(bool tuned, Instrument horn)
    {
        yield return new("the recording", "no part was given, so only what needs none is told.", "Name the part with --part to hear about wrong notes, tempo and tongue.", Severity.Note);
        if (!tuned)
            yield return new("the recording", $"its notes do not tell what the player is tuned to (they are too few, or do not agree); A4 = {horn.A4.Value:0.0} Hz is taken.", "", Severity.Note);
    }

    private FreeTake Nothing(Sounding sound)
    {
        var plan = PlanOf(FreeLine.Of([], [], sound, 0, FreeListener.Title), instrument);
        var problem = new Problem("the recording", "no notes are heard in it.", "Check the microphone and that the right file was named.");
        return new(plan, new Take
        {
            Notes = [],
            Changes = [],
            Track = Listener.TrackOf(track),
            TempoRatio = null,
            Room = track.Count == 0 ? null : RoomReader.Describe(track, new(RoomReader.NoiseOf(track), null, null), heard.Clipped),
            Unmatched = sound.Count < 3 ? [] : Leftovers.Of(sound, plan, [], []),
            Problems = [problem],
        });
    }
}
