using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>A tune in one key and octave, planned and weighed.</summary>
/// <param name="Part">Moved there.</param>
/// <param name="Plan">In the same tempo as the others.</param>
/// <param name="Semitones">From the key as written, positive upward; 0 for that key itself.</param>
/// <param name="Score">How it lies.</param>
/// <param name="Reason">Against the key as written, in a sentence.</param>
public sealed record KeyOption(Part Part, Plan Plan, int Semitones, KeyScore Score, string Reason)
{
    /// <summary>Of the first bar.</summary>
    public KeySignature Key => Part.Bars[0].Key;
}

/// <summary>Every key in which a tune can be played, the best first.</summary>
/// <param name="Options">At least one; each key once, unless every octave was asked for.</param>
/// <param name="Written">The key as written; null where the pupil cannot play it there.</param>
public sealed record KeyRanking(ImmutableArray<KeyOption> Options, KeyOption? Written);

/// <summary>Finds the key in which a tune lies best for a pupil.</summary>
/// <remarks>All twelve keys of its mode are tried, each in the octave that lies nearest to the tune as written among those whose notes the pupil can all
/// play: a tune keeps its height and its character (common practice), and a voice two octaves up is another instrument's. They are planned and ranked by
/// <see cref="KeyScore.Total"/>, in which the way from the key as written counts too; equals by how near they lie to it. Of two keys that sound alike the one
/// with fewer accidentals is taken, of F-sharp and G-flat the latter.</remarks>
public static class KeyChoice
{
    private const int Octaves = 4;

    /// <summary>Weighs every key.</summary>
    /// <param name="title">Of the piece.</param>
    /// <param name="part">At concert pitch; settings prescribed on its notes are left out, for they hold in one key only.</param>
    /// <param name="pupil">Whose range, reach and way of planning.</param>
    /// <param name="tempo">Quarter notes a minute at the beginning; null for the part's own.</param>
    /// <param name="everyOctave">Whether a key comes in every octave that fits, not in the nearest alone.</param>
    /// <returns>At least one, or why none fits.</returns>
    public static Outcome<KeyRanking> Rank(string title, Part part, Pupil pupil, double? tempo = null, bool everyOctave = false)
    {
        var free = part with { Bars = [.. part.Bars.Select(b => b with { Events = [.. b.Events.Select(e => e is Note n ? n with { Setting = "" } : e)] })] };
        var written = Unfolder.Play(free, title, tempo);
        if (!written.Succeeded) return Outcome<KeyRanking>.Failed(written.Problems);
        if (written.Value.Notes.IsEmpty) return Outcome<KeyRanking>.Failed("the part", "has no notes.", "Choose another part.");
        var notes = written.Value.Notes.Select(n => n.Pitch.Midi).Distinct().ToArray();
        var fitting = Moves(free).Where(m => Fits(notes, m.Interval.Semitones, pupil)).ToList();
        if (!everyOctave) fitting = [.. fitting.GroupBy(m => ((m.Interval.Semitones % 12) + 12) % 12).Select(g => g.OrderBy(m => Math.Abs(m.Interval.Semitones)).ThenBy(m => m.Interval.Semitones).First())];
        var found = fitting.Select(m => Weigh(title, free, m.Interval, pupil, tempo)).OfType<KeyOption>().ToList();
        if (found.Count == 0) return Outcome<KeyRanking>.Failed([None(notes, pupil)]);
        var original = found.Find(o => o.Semitones == 0);
        return Outcome<KeyRanking>.Of(new KeyRanking(
            [.. found.OrderBy(o => o.Score.Total).ThenBy(o => Math.Abs(o.Semitones)).ThenBy(o => o.Semitones).Select(o => o with { Reason = KeyWords.Of(o, original) })],
            original is null ? null : original with { Reason = KeyWords.Of(original, original) }));
    }

    // Twelve keys, from six flats to five sharps; the key as written keeps its own spelling.
    private static IEnumerable<Way> Moves(Part part)
    {
        var from = part.Bars[0].Key;
        var keys = Enumerable.Range(-6, 12).Where(f => (f - from.Fifths) % 12 != 0).Select(f => new KeySignature(f, from.Mode)).Append(from);
        foreach (var key in keys)
        {
            for (var octaves = -Octaves; octaves <= Octaves; octaves++)
            {
                if (Transposer.ToKey(from, new KeyName(key.Tonic, from.Mode), octaves) is { Succeeded: true } way) yield return way.Value;
            }
        }
    }

    private static bool Fits(int[] notes, int semitones, Pupil pupil) =>
        notes.All(m => m + semitones is >= 0 and <= 127 && pupil.Plays(Pitch.FromMidi(m + semitones)));

    private static KeyOption? Weigh(string title, Part part, Interval by, Pupil pupil, double? tempo)
    {
        var moved = Transposer.Move(part, by);
        if (!moved.Succeeded || Unfolder.Play(moved.Value, title, tempo) is not { Succeeded: true } line) return null;
        var plan = Planner.Plan(line.Value, pupil.Instrument, pupil.Settings);
        if (!plan.Succeeded || plan.Value.Notes.Any(n => n.Setting is null)) return null;
        return new KeyOption(moved.Value, plan.Value, by.Semitones, KeyScore.Of(moved.Value, plan.Value, pupil, by.Semitones), "");
    }

    private static Problem None(int[] notes, Pupil pupil)
    {
        var (span, room) = (notes.Max() - notes.Min(), pupil.Highest.Midi - pupil.Lowest.Midi);
        return new Problem(
            "the part",
            $"fits in no key between {pupil.Lowest.ToDisplay()} and {pupil.Highest.ToDisplay()} on the {pupil.Instrument.Name}: it spans {span} semitones, and {room} are there.",
            "Choose a wider range or a higher level, or a part that spans less.", Severity.Error);
    }
}
