using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Sound.Rooms;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.PlayAlong;

/// <summary>From plans to a play-along: first what happens when, then the sound of it.</summary>
public static class PlayAlongMaker
{
    /// <summary>The most rounds; more are a mistake of typing.</summary>
    public const int MostRounds = 50;

    // Longer than any lesson, and what still fits the time map's and the sound file's lengths.
    private const double MostSeconds = 4 * 3600;

    /// <summary>Lays out a play-along.</summary>
    /// <param name="rounds">The same part planned at each round's tempo, 1 to <see cref="MostRounds"/>.</param>
    /// <param name="settings">Null for <see cref="PlayAlongSettings.Default"/>.</param>
    /// <returns>A schedule, or every reason why there is none: a setting out of range, a part without notes or bars, a note that the
    /// instrument cannot play, more than four hours.</returns>
    public static Outcome<Schedule> LayOut(IReadOnlyList<Plan> rounds, PlayAlongSettings? settings = null)
    {
        var used = settings ?? PlayAlongSettings.Default;
        var problems = used.Validate().ToList();
        if (rounds.Count is < 1 or > MostRounds)
            problems.Add(new Problem("rounds", $"{rounds.Count} rounds are asked for.", $"Give 1 to {MostRounds}.", Severity.Error));
        if (rounds.Count > 0) problems.AddRange(Unplayable(rounds[0]));
        if (problems.Count > 0) return Outcome<Schedule>.Failed(problems);
        if (used.IsSilent(rounds[0].Line.Chords.IsEmpty))
            return Outcome<Schedule>.Failed("play-along", "Nothing would be heard: no example, no click, no drone, no chords.", "Ask for one of them.");
        var seconds = rounds.Sum(r => r.Line.Tempo.At(Phrases.Whole(r.Line).To).Value) * (used.Turns == Turns.ExampleThenYou ? 2 : 1);
        if (seconds > MostSeconds)
            return Outcome<Schedule>.Failed("play-along", $"It would last {seconds / 3600:0.0} hours.", "Ask for fewer rounds, a quicker tempo or a shorter part: four hours at most.");
        return Outcome<Schedule>.Of(Scheduler.Of(rounds, used));
    }

    /// <summary>How long a play-along rings on after its schedule ended: nothing where it is heard in no room.</summary>
    public static Seconds RingOf(PlayAlongSettings settings) => settings.Room is { } room ? RoomFeed.RingOf(room) : Seconds.Zero;

    /// <summary>The sound of a schedule, made as it is read; in a room it is longer by <see cref="RingOf"/>.</summary>
    /// <param name="schedule">What happens when.</param>
    /// <param name="voice">Plays the examples; null for the trombone with the schedule's own faults.</param>
    public static SoundFeed Sound(Schedule schedule, ExampleVoice? voice = null)
    {
        var settings = schedule.Settings;
        var layers = new List<SoundFeed>();
        if (settings.Turns != Turns.YouOnly) layers.Add(new ExampleFeed(schedule, voice ?? ExampleVoices.With(schedule.Faults)));
        if (settings.Drone != DroneNotes.None) layers.Add(new DroneFeed(schedule));
        if (settings.Chords) layers.Add(new ChordFeed(schedule));
        if (settings.Room is { } room) layers = [new RoomFeed(new Mix([.. layers.Select(l => new Layer(l, Ear.Left))], schedule.Rate, split: false, schedule.Length), room)];
        var all = layers.Select(l => new Layer(l, Ear.Left));
        if (settings.Click != ClickUse.None) all = all.Append(new Layer(new ClickFeed(schedule), Ear.Right));
        return new Mix([.. all], schedule.Rate, settings.Split, schedule.WithRing);
    }

    private static IEnumerable<Problem> Unplayable(Plan plan)
    {
        if (plan.Notes.IsEmpty) yield return new Problem("the part", "has nothing to play.", "Choose another part.", Severity.Error);
        if (plan.Line.Bars.IsEmpty) yield return new Problem("the part", "has no bars to count.", "A play-along needs a written part.", Severity.Error);
        var missing = plan.Notes.Where(n => n.Setting is null).ToList();
        if (missing.Count == 0) yield break;
        var shown = missing.DistinctBy(n => n.Note.Pitch.Midi).Take(4).Select(n => $"{n.Note.Pitch.ToDisplay()} (bar {n.Note.Bar}, beat {n.Note.Beat.ToDouble():0.##})");
        var (low, high) = plan.Instrument.Range();
        yield return new Problem(
            "the part", $"has {missing.Count} of {plan.Notes.Length} notes that cannot be played on the {plan.Instrument.Name}: {string.Join(", ", shown)}.",
            $"It reaches from {low.ToDisplay()} to {high.ToDisplay()}: choose another key, octave or instrument, or allow more of it.", Severity.Error);
    }
}
