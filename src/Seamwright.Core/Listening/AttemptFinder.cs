using System.Collections.Immutable;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Listening;

/// <summary>One pass at the line.</summary>
/// <param name="Stretches">One entry for each note of the plan: null where it was not found.</param>
/// <param name="Transposition">Whole semitones above what is written.</param>
/// <param name="TempoRatio">The player's tempo against the plan's, 1.1 is ten per cent faster; null where too little was found.</param>
internal sealed record FoundAttempt(Stretch?[] Stretches, int Transposition, double? TempoRatio)
{
    /// <summary>What is added to a written pitch to give the one played: the transposition and the player's tuning.</summary>
    public double Semitones { get; init; } = Transposition;

    /// <summary>Every tone that is held from the end of the pass before it to the beginning of the one after, in order of time.</summary>
    public ImmutableArray<Tone> Tones { get; init; } = [];

    public int NotesFound => Stretches.Count(s => s is not null);

    /// <summary>Whether a frame lies on the way between two neighbouring notes that were found: nothing else sounds there than their change.</summary>
    public bool IsBetween(int note, int frame, Sounding sound, Plan plan)
    {
        var (a, b) = (plan.Notes[note].Note.Pitch.Midi + Semitones, plan.Notes[note + 1].Note.Pitch.Midi + Semitones);
        return sound.HasPitch(frame) && sound.Pitch[frame] > Math.Min(a, b) - 0.5 && sound.Pitch[frame] < Math.Max(a, b) + 0.5;
    }

    public int First => Array.FindIndex(Stretches, s => s is not null);

    public int Last => Array.FindLastIndex(Stretches, s => s is not null);

    /// <summary>First sounding frame.</summary>
    public int From => Stretches[First]!.Value.From;

    /// <summary>Frame after the last.</summary>
    public int To => Stretches[Last]!.Value.To;
}

/// <summary>What a recording holds of a part.</summary>
/// <param name="Attempts">In order of time, none overlapping another.</param>
/// <param name="Unmatched">Every other sound, in order of time.</param>
internal sealed record FoundAttempts(ImmutableArray<FoundAttempt> Attempts, ImmutableArray<UnmatchedStretch> Unmatched)
{
    /// <summary>The attempt with the most notes, the later of equals; −1 where there is none.</summary>
    public int Best => Attempts.IsEmpty ? -1 : Enumerable.Range(0, Attempts.Length).MaxBy(i => (Attempts[i].NotesFound, i));

    /// <summary>Steps the searches weighed: what they cost, whatever the machine.</summary>
    public long Steps { get; init; }
}

/// <summary>Finds every pass at a line in a recording, and what belongs to none.</summary>
/// <remarks>First roughly, over the whole recording, by the tones held (<see cref="PassFinder"/>); then each pass finely, by the frames
/// (<see cref="Alignment"/>). Both are linear in the recording.</remarks>
internal static class AttemptFinder
{
    // Bytes of the rough search's table: longer recordings are searched in pieces, parted at their longest pauses.
    private const long LargestTable = 12_000_000;
    private const double QuietestAgainstLoudest = 18;
    private const double SlowSlide = 0.1;

    /// <param name="track">Of the whole recording.</param>
    /// <param name="plan">The part, at least one note.</param>
    /// <param name="hop">Seconds between the track's frames.</param>
    /// <param name="tuningCents">The instrument's A4 against 440 Hz.</param>
    /// <param name="tolerance">Cents a note may be off.</param>
    public static FoundAttempts Of(RoughTrack track, Plan plan, double hop, double tuningCents, double tolerance) =>
        Of(Sounding.Of(track, hop, tuningCents), plan, tolerance);

    /// <param name="sound">The recording.</param>
    /// <param name="plan">The part, at least one note.</param>
    /// <param name="tolerance">Cents a note may be off.</param>
    public static FoundAttempts Of(Sounding sound, Plan plan, double tolerance)
    {
        if (sound.Count < 3) return new([], []);
        var places = Boundaries.Find(sound);
        var tones = Tones.Of(sound, places);
        places = Boundaries.WithEnds(places, tones);
        var keys = Keys.Of(tones, plan, sound.Hop);
        var (passes, steps) = Passes(tones, plan, keys, sound.Hop, tolerance);
        var attempts = Refined(passes, sound, plan, places, tolerance, ref steps);
        attempts = Believed(Foreground(attempts, sound), sound, tones, plan);

        // Only now: a note with half a slide on either side is held no longer.
        foreach (var attempt in attempts) MeetHalfWay(attempt, sound, plan);
        return new([.. attempts.Select((_, i) => WithTones(attempts, i, sound, tones, plan))], Leftovers.Of(sound, plan, tones, attempts)) { Steps = steps };
    }

    private static FoundAttempt WithTones(List<FoundAttempt> attempts, int i, Sounding sound, List<Tone> tones, Plan plan)
    {
        var (from, to) = (i == 0 ? 0 : attempts[i - 1].To, i + 1 == attempts.Count ? sound.Count : attempts[i + 1].From);
        return WrongNotes.WithoutScraps(attempts[i] with { Tones = Within(tones, from, to) }, plan);
    }

    private static ImmutableArray<Tone> Within(List<Tone> tones, int from, int to) => [.. tones.Where(t => t.From >= from && t.To <= to)];

    private static (List<Pass> Passes, long Steps) Passes(List<Tone> tones, Plan plan, List<Key> keys, double hop, double tolerance)
    {
        var (found, steps) = (new List<Pass>(), 0L);
        var most = (int)Math.Max(64, LargestTable / (plan.Notes.Length * keys.Count));
        for (var from = 0; from < tones.Count;)
        {
            var to = Math.Min(tones.Count, from + most);
            if (to < tones.Count) to = Enumerable.Range(from + (most / 2), most - (most / 2)).MaxBy(i => tones[i].From - tones[i - 1].To);
            found.AddRange(PassFinder.Of(tones.GetRange(from, to - from), plan, keys, hop, tolerance, out var more));
            steps += more;
            from = to;
        }

        return (found, steps);
    }

    private static List<FoundAttempt> Refined(List<Pass> passes, Sounding sound, Plan plan, Boundary[] places, double tolerance, ref long steps)
    {
        var found = new List<FoundAttempt>();
        var free = 0;
        for (var p = 0; p < passes.Count; p++)
        {
            var until = p + 1 < passes.Count ? passes[p + 1].Start : sound.Count - 1;
            var (band, near) = PassBand.Around(plan, passes[p], places, (Math.Min(free, passes[p].Start), until), sound.Hop);
            var stretches = Alignment.Of(sound, plan, passes[p], band, near, tolerance, out var more);
            steps += more;
            TouchedRuns.Recut(stretches, passes[p].Key.Semitones, sound, plan, places);
            var onsets = Alignment.Onsets(stretches, sound.Hop);
            if (onsets.Count == 0) continue;
            var ratio = Alignment.Ratio([.. onsets.Select(o => (plan.Notes[o.Note].Note.StartTime.Value, o.Time))]);
            var attempt = new FoundAttempt(stretches, passes[p].Key.Transposition, ratio is { } r ? 1 / r : null) { Semitones = passes[p].Key.Semitones };
            free = Math.Max(attempt.To, passes[p].End);
            found.Add(attempt);
        }

        return found;
    }

    // A slow slide belongs half to each of its notes, as a fast one does.
    private static void MeetHalfWay(FoundAttempt attempt, Sounding sound, Plan plan)
    {
        for (var i = 0; i + 1 < attempt.Stretches.Length; i++)
        {
            if (attempt.Stretches[i] is not { } a || attempt.Stretches[i + 1] is not { } b || (b.From - a.To) * sound.Hop < SlowSlide) continue;
            var way = Enumerable.Range(a.To, b.From - a.To).Where(f => attempt.IsBetween(i, f, sound, plan)).ToList();
            var (low, high) = (plan.Notes[i].Note.Pitch.Midi, plan.Notes[i + 1].Note.Pitch.Midi);
            if (low == high || way.Count < 0.8 * (b.From - a.To)) continue;
            var middle = (low + high) / 2.0 + attempt.Semitones;
            var turn = way.Find(f => high > low ? sound.Pitch[f] >= middle : sound.Pitch[f] <= middle);
            if (turn > 0) (attempt.Stretches[i], attempt.Stretches[i + 1]) = (a with { To = turn }, b with { From = turn });
        }
    }

    // What is far quieter than the rest is a play-along or someone in the next room.
    private static List<FoundAttempt> Foreground(List<FoundAttempt> attempts, Sounding sound)
    {
        var levels = attempts.ConvertAll(a => LevelOf(a, sound));
        return [.. attempts.Where((_, i) => levels[i] >= levels.Max() - QuietestAgainstLoudest)];
    }

    private static double LevelOf(FoundAttempt attempt, Sounding sound)
    {
        var levels = new List<double>();
        foreach (var s in attempt.Stretches)
        {
            for (var i = s?.From ?? 0; i < (s?.To ?? 0); i += 4) levels.Add(sound.Db[i]);
        }

        levels.Sort();
        return levels[levels.Count / 2];
    }

    private static List<FoundAttempt> Believed(List<FoundAttempt> attempts, Sounding sound, List<Tone> tones, Plan plan)
    {
        var evidence = attempts.ConvertAll(a => Evidence.Of(a, sound, tones, plan));
        var real = evidence.Where(e => e.Suffices).ToList();
        return [.. attempts.Where((_, i) => evidence[i].Suffices || real.Exists(evidence[i].SufficesBeside))];
    }
}
