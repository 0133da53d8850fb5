using System.Collections.Immutable;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>A long tone with the tongue imagined, then the same tone with light touches.</summary>
internal static class OneNote
{
    public static readonly ExerciseKind Kind = new(
        "one-note", "a long tone with the tongue only imagined, then the same with light touches",
        [nameof(ExerciseOrder.Note), nameof(ExerciseOrder.Touches)], Make);

    private const double Slow = 52;

    private static Outcome<ExerciseSet> Make(ExerciseOrder order, Pupil pupil)
    {
        var note = order.Note ?? Comfortable(pupil);
        var touches = order.Touches ?? TouchesOf(pupil);
        var draft = new ExerciseDraft
        {
            Id = $"one-note-{note.ToString().ToLowerInvariant().Replace("#", "-sharp", StringComparison.Ordinal)}",
            Kind = Kind.Name,
            Title = $"One note: {note.ToDisplay()}",
            Purpose = "The tongue is learned on one note: the air goes on as if there were no tongue, and the tongue only touches it.",
            Practice =
            [
                "Hold the first tone with a steady air and only imagine the syllable on every beat.",
                "Play it again and let the tip of the tongue touch the air lightly; nothing else may change.",
                "If tone or pitch change between the two, go back to the imagined tongue.",
            ],
            Part = Write(note, touches),
            Tempos = [Slow],
        };
        return Drafts.Finish([draft.Climb(pupil, order.Tempos, Slow, Math.Min(Levels.TempoOf(pupil.Level), 60 / (ExerciseDifficulty.Touch * touches.Max())))], pupil);
    }

    // Two to the beat in the first year, three in the second, then four (proposed default).
    private static ImmutableArray<int> TouchesOf(Pupil pupil) => [.. Enumerable.Range(2, Math.Min(pupil.Level, 3))];

    // In the middle of the range, where nothing else is hard.
    private static Pitch Comfortable(Pupil pupil)
    {
        var home = pupil.Instrument.Pedal + Interval.Octave + Interval.Octave;
        var all = Enumerable.Range(pupil.Lowest.Midi, pupil.Highest.Midi - pupil.Lowest.Midi + 1).Select(Pitch.FromMidi).Where(pupil.Plays);
        return pupil.Plays(home) ? home : all.MinBy(p => Math.Abs(p.Midi - ((pupil.Lowest.Midi + pupil.Highest.Midi) / 2.0)));
    }

    private static Part Write(Pitch note, ImmutableArray<int> touches)
    {
        var pen = new ExerciseWriting(new KeySignature(0), Meter.CommonTime);
        pen.Section("Imagine the tongue");
        pen.Note(note, pen.BarLength * 2, ChangeIntent.ImaginedTongue);
        pen.Rest(pen.BarLength);
        foreach (var touch in touches)
        {
            pen.Section($"Touch lightly, {touch} to the beat");
            var each = Beats.Quarter / touch;
            var first = pen.Note(note, each, ChangeIntent.TouchedTone);
            var last = first;
            for (var i = 1; i < 8 * touch; i++) last = pen.Note(note, each, ChangeIntent.TouchedTone);
            pen.Slur(first, last);
            pen.Rest(pen.BarLength);
        }

        return pen.Finish();
    }
}
