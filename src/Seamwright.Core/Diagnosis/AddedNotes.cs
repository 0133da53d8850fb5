using System.Collections.Immutable;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Diagnosis;

/// <summary>Notes that were played between two right ones and that the part does not have there.</summary>
/// <remarks>What the ear catches between two notes is a slip between partials where it is short, and a note where it is as long as one. It looks
/// no further than 0.25 s from where the two meet, so a note is held at least as long as is told.</remarks>
internal static class AddedNotes
{
    /// <summary>The finding of a note that was added within a change; null where there is none, or where it is not sure.</summary>
    public static Finding? Between(ChangeCase c)
    {
        // Without a part nobody knows what belongs there.
        if (c.Plan.Line.FromRecording || c.Heard is not { CaughtPitch: { } caught, CaughtFor: { } held, IsCovered: false, CaughtMayBeNote: false }) return null;
        if (held.Value < c.Limits.AddedNote.Value || c.Heard.Doubts.Any(d => d is Doubt.Echo or Doubt.OtherSound)) return null;
        var (name, time) = (Name(c.Plan, caught).ToDisplay(), $"{held.Milliseconds:0} ms or longer");
        return new(Verdict.AddedNote, Moved(c.Plan, c.Change, c.Heard, c.Notes) switch
        {
            { } moved when moved < c.Change.FromNote => $"{name} was played after {Written(c.Plan, c.Change.FromNote)} ({time}) and not before it, as is written",
            { } => $"{name} was played before {Written(c.Plan, c.Change.ToNote)} ({time}) and not after it, as is written",
            null => $"{name} was played between {Written(c.Plan, c.Change.FromNote)} and {Written(c.Plan, c.Change.ToNote)} ({time}), where the part has no note",
        });
    }

    /// <summary>The next semitone to a pitch, by the instrument's own tuning.</summary>
    public static Pitch Name(Plan plan, Hertz pitch) => Pitch.FromMidi((int)Math.Round(69 + (pitch.Above(plan.Instrument.A4).Value / 100)));

    /// <summary>The neighbouring note of the line that was not found and sounds here instead, so that two notes changed places; null where there is none.</summary>
    public static int? Moved(Plan plan, NoteChange change, HeardChange heard, ImmutableArray<HeardNote> notes)
    {
        if (heard.CaughtPitch is not { } caught) return null;
        int[] neighbours = [change.FromNote - 1, change.ToNote + 1];
        return neighbours.Where(i => i >= 0 && i < notes.Length && notes[i] is { Found: false, Instead: null } && plan.Notes[i].Note.Pitch.Midi == Name(plan, caught).Midi)
            .Select(i => (int?)i).FirstOrDefault();
    }

    private static string Written(Plan plan, int note) => plan.Notes[note].Note.Pitch.ToDisplay();
}
