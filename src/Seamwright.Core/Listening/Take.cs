using System.Collections.Immutable;
using Seamwright.Core.Instruments;
using Seamwright.Core.Units;

namespace Seamwright.Core.Listening;

/// <summary>A 90 % interval, in the unit of the quantity beside it: in nine cases of ten the truth lies inside.</summary>
/// <param name="Low">Lower end.</param>
/// <param name="High">Upper end, not below <paramref name="Low"/>.</param>
public readonly record struct Bounds<T>(T Low, T High);

/// <summary>What was heard in one recording of a planned line. Times are seconds from the start of the file.</summary>
/// <remarks>A quantity that could not be measured is null, never 0.</remarks>
public sealed record Take
{
    /// <summary>One for each note of the plan, same order and index.</summary>
    public required ImmutableArray<HeardNote> Notes { get; init; }

    /// <summary>One for each change of the plan, same order and index.</summary>
    public required ImmutableArray<HeardChange> Changes { get; init; }

    /// <summary>The first and the last note that were found; null where none was.</summary>
    public (int First, int Last)? Played
    {
        get
        {
            var found = Notes.Where(n => n.Found).Select(n => n.Index).ToList();
            return found.Count == 0 ? null : (found[0], found[^1]);
        }
    }

    /// <summary>Whether a change was found or lies within the stretch that was played: beyond it there is nothing to tell. Where nothing was
    /// found, anything may have been played.</summary>
    /// <param name="change">Of the same plan.</param>
    public bool Holds(Planning.NoteChange change) =>
        Changes[change.Index].Found || Played is not var (first, last) || (change.FromNote >= first && change.ToNote <= last);

    /// <summary>The pitch and level trace behind the measurements, in time order.</summary>
    public required Track Track { get; init; }

    /// <summary>Power-weighted mean frequency over the pitch, one for each frame of the track, null where not measured; empty where no exercise
    /// wants two tones compared.</summary>
    public ImmutableArray<double?> Brightness { get; init; } = [];

    /// <summary>The player's tempo against the plan's: 1.1 is ten per cent faster. Null where too little was found.</summary>
    public required double? TempoRatio { get; init; }

    /// <summary>Every pass at the line, in time order. <see cref="Notes"/> and <see cref="Changes"/> are those of the fullest one, of equals
    /// the last, or of the one that was asked for.</summary>
    public ImmutableArray<Attempt> Attempts { get; init; } = [];

    /// <summary>Which attempt is told, from 0, where <see cref="Completed"/> has mixed them or <see cref="Told"/> chose one; null where the
    /// notes tell.</summary>
    public int? ToldAttempt { get; init; }

    /// <summary>Whether that attempt was asked for.</summary>
    public bool IsAsked { get; init; }

    /// <summary>Stretches of sound that belong to no note of the part, in time order.</summary>
    public ImmutableArray<UnmatchedStretch> Unmatched { get; init; } = [];

    /// <summary>Where the file is damaged, in time order: changes and notes that touch such a stretch are not judged.</summary>
    public ImmutableArray<DamagedSpan> Damage { get; init; } = [];

    /// <summary>The room and the microphone; null where nothing was heard.</summary>
    public RoomSound? Room { get; init; }

    /// <summary>Anything to say about the recording as a whole: clipping, silence, nothing recognised.</summary>
    public ImmutableArray<Problem> Problems { get; init; } = [];

    /// <summary>The same take, where what the best attempt left out is told from the latest other one in its key that holds it: a player
    /// who stops and goes back has played all of it. Times then follow the line no longer.</summary>
    public Take Completed()
    {
        var best = Attempts.Select((a, i) => (a, i)).Where(x => x.a.Notes == Notes).Select(x => (int?)x.i).FirstOrDefault();
        if (best is not { } told) return this;
        var others = Attempts.Where((a, i) => i != told && a.Transposition == Attempts[told].Transposition).Reverse().ToList();
        ImmutableArray<HeardNote> notes = [.. Notes.Select((n, i) => n.Found || n.Instead is not null ? n : others.Select(a => a.Notes[i]).FirstOrDefault(o => o.Found) ?? n)];
        return this with
        {
            Notes = notes,
            Problems = [.. Problems.Except(Listener.NotFound(Notes)), .. Listener.NotFound(notes)],
            Changes = [.. Changes.Select((c, i) => c.Found ? c : others.Select(a => a.Changes[i]).FirstOrDefault(o => o.Found) ?? c)],
            ToldAttempt = told,
        };
    }

    /// <summary>The same take, told of one attempt and nothing of the others.</summary>
    /// <param name="attempt">From 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such attempt.</exception>
    public Take Told(int attempt)
    {
        if (attempt < 0 || attempt >= Attempts.Length) throw new ArgumentOutOfRangeException(nameof(attempt), attempt, $"The take holds {Attempts.Length} attempts.");
        var told = Attempts[attempt];
        return this with
        {
            Notes = told.Notes,
            Changes = told.Changes,
            TempoRatio = told.TempoRatio,
            ToldAttempt = attempt,
            IsAsked = true,
            Problems = [.. Problems.Except(Listener.NotFound(Notes)), .. Listener.NotFound(told.Notes)],
        };
    }
}

/// <summary>Pitch and level at a steady hop.</summary>
public sealed record Track
{
    /// <summary>Time of frame 0's centre.</summary>
    public required Seconds Start { get; init; }

    /// <summary>Distance of two frames' centres, at most 5 ms.</summary>
    public required Seconds Hop { get; init; }

    /// <summary>Frames in time order.</summary>
    public required ImmutableArray<Frame> Frames { get; init; }

    /// <summary>Time of a frame's centre.</summary>
    public Seconds TimeOf(int frame) => Start + (frame * Hop);
}

/// <summary>One moment of sound.</summary>
/// <param name="Pitch">Null where no pitch is heard.</param>
/// <param name="Level">Relative to full scale, in the ear's 13 ms window or two periods where those are longer.</param>
/// <param name="Periodicity">Normalised correlation of neighbouring periods, 0 to 1.</param>
public readonly record struct Frame(Hertz? Pitch, Decibels Level, float Periodicity)
{
    /// <summary>Level of what repeats itself: the tone without breath and room noise.</summary>
    public Decibels Tone => new(Level.Value + (10 * Math.Log10(Math.Clamp(Periodicity, 1e-4, 1))));

    /// <summary>Level of what does not repeat itself.</summary>
    public Decibels Noise => new(Level.Value + (10 * Math.Log10(Math.Clamp(1 - Periodicity, 1e-4, 1))));
}

/// <summary>A planned note as it was heard.</summary>
public sealed record HeardNote
{
    public required int Index { get; init; }

    /// <summary>What was asked for.</summary>
    public required Pitch Pitch { get; init; }

    /// <summary>Whether the note was found at all; everything below is null where it was not.</summary>
    public required bool Found { get; init; }

    /// <summary>What was played in its place, as it would be written; null where the note was found or nothing else is heard there.</summary>
    public Pitch? Instead { get; init; }

    /// <summary>Whether the file is damaged where it sounds, or where it is missing.</summary>
    public bool IsDamaged { get; init; }

    public Seconds? Onset { get; init; }

    /// <summary>When it lets go or gives way to the next.</summary>
    public Seconds? Offset { get; init; }

    /// <summary>Median pitch of its steady part against the equal-tempered pitch asked for.</summary>
    public Cents? Cents { get; init; }

    public Bounds<Cents>? CentsBounds { get; init; }

    /// <summary>Median level of its steady part, relative to full scale.</summary>
    public Decibels? Level { get; init; }

    /// <summary>How the pitch drifts over its steady part, vibrato apart, cents from one end to the other; null where too short.</summary>
    public Cents? Drift { get; init; }

    public Bounds<Cents>? DriftBounds { get; init; }

    /// <summary>Where the pitch swings 4 to 8 times a second; null where it does not or the note is shorter than two swings.</summary>
    public Vibrato? Vibrato { get; init; }

    /// <summary>Power-weighted mean frequency of the tone over its pitch; 1 is a pure tone. Null where not measured.</summary>
    public double? Brightness { get; init; }

    /// <summary>How far the noise in the tone lies below it; null where not measured.</summary>
    public Decibels? ToneToNoise { get; init; }

    /// <summary>A setting that fits what was heard better than the planned one; null where the planned one fits.</summary>
    public SlideSetting? PlayedSetting { get; init; }
}

/// <summary>A regular swing of the pitch.</summary>
/// <param name="Rate">Swings a second, 4 to 8.</param>
/// <param name="Extent">To each side.</param>
public readonly record struct Vibrato(Hertz Rate, Cents Extent);

/// <summary>Why a figure may not be known well enough.</summary>
public enum Doubt
{
    /// <summary>Two periods of so low a note last longer than the ear's window.</summary>
    LowNote,

    /// <summary>Noise hides the quiet moments.</summary>
    Noise,

    /// <summary>The room's own decay fills dips and lengthens notes.</summary>
    Reverberation,

    /// <summary>A wall sends the old note back into the new one.</summary>
    Echo,

    /// <summary>Another sound of steady pitch is heard beside the player's.</summary>
    OtherSound,

    /// <summary>The microphone or its amplifier was driven beyond full scale.</summary>
    Clipping,

    /// <summary>The notes are too short for steady parts on both sides.</summary>
    ShortNotes,

    /// <summary>The file is damaged there: what sounds was not played.</summary>
    Damage,
}

/// <summary>One partial giving way to another.</summary>
/// <param name="Time">Middle of the jump, seconds.</param>
/// <param name="Semitones">How far the pitch jumps, signed.</param>
public readonly record struct PartialBreak(Seconds Time, double Semitones);

/// <summary>The arm's movement behind a glide on one partial: a minimum-jerk movement in slide travel.</summary>
public sealed record HeardArm
{
    /// <summary>When the slide leaves, and when it arrives; the movement's duration lies between.</summary>
    public required Seconds Start { get; init; }

    public required Seconds End { get; init; }

    public Bounds<Seconds>? DurationBounds { get; init; }

    /// <summary>Travel at the beginning and end of the movement, as the sounding pitches say.</summary>
    public required Centimetres From { get; init; }

    public required Centimetres To { get; init; }

    /// <summary>Peak speed, metres per second: 1.875·D/T (Flash and Hogan, J. Neurosci. 5 (1985)).</summary>
    public required double PeakSpeed { get; init; }

    public Bounds<double>? PeakSpeedBounds { get; init; }

    /// <summary>Middle of the movement against the moment the second note begins as planned at the player's tempo; null where unknown.</summary>
    public Seconds? Lead { get; init; }

    /// <summary>Whether the slide crept: it was under way for longer than 40 % of the first note.</summary>
    public bool Crept { get; init; }

    /// <summary>Travel as the pitch shows it, every 5 ms from <see cref="PathStart"/>; null where no pitch was heard.</summary>
    public ImmutableArray<Centimetres?> Path { get; init; } = [];

    public Seconds PathStart { get; init; }

    public Seconds Duration => End - Start;
}

/// <summary>One pass at the line, whole or in part.</summary>
public sealed record Attempt
{
    /// <summary>Its first and last sounding moment in the file.</summary>
    public required Seconds Start { get; init; }

    public required Seconds End { get; init; }

    /// <summary>One for each note of the plan; those outside the pass are not found.</summary>
    public required ImmutableArray<HeardNote> Notes { get; init; }

    /// <summary>One for each change of the plan.</summary>
    public required ImmutableArray<HeardChange> Changes { get; init; }

    /// <summary>Semitones the whole pass lies above what is written; 0 as written, −12 an octave down.</summary>
    public int Transposition { get; init; }

    /// <summary>The player's tempo against the plan's; null where too little was found.</summary>
    public double? TempoRatio { get; init; }

    public int NotesFound => Notes.Count(n => n.Found);
}

/// <summary>Sound that was matched with no note.</summary>
/// <param name="Start">Seconds.</param>
/// <param name="End">Seconds.</param>
/// <param name="Kind">What it probably is.</param>
public readonly record struct UnmatchedStretch(Seconds Start, Seconds End, UnmatchedKind Kind);

public enum UnmatchedKind
{
    /// <summary>Tones that are not in the part here: warming up, another tune, wrong or added notes.</summary>
    Tones,

    /// <summary>Sound without a steady pitch: speech, steps, clicks, breath.</summary>
    Noise,
}

/// <summary>The room and the microphone as they show in the recording.</summary>
/// <param name="Noise">Level of the quietest moments, relative to full scale.</param>
/// <param name="ToneToNoise">Level of the notes above that noise.</param>
/// <param name="Reverberation">Time in which the sound decays by 60 dB, as old notes sound on under new ones and after the last; null where neither shows it.</param>
/// <param name="Clipped">Share of samples at full scale, 0 to 1.</param>
public sealed record RoomSound(Decibels Noise, Decibels ToneToNoise, Seconds? Reverberation, double Clipped)
{
    /// <summary>After what time a wall sends the sound back, the strongest of such returns; null where none is heard.</summary>
    public Seconds? EchoDelay { get; init; }

    /// <summary>Level of that return against the sound itself, below 0; null where none is heard.</summary>
    public Decibels? EchoLevel { get; init; }
}
