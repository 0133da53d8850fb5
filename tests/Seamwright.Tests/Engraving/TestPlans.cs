using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Engraving;

/// <summary>Made-up plans: the usual setting of each note and a rough kind of change, enough to have something to print.</summary>
internal static class TestPlans
{
    public static Plan For(Part part, Instrument? instrument = null, bool repeatDiffers = false)
    {
        var horn = instrument ?? Catalogue.Default;
        var played = Played(part);
        var notes = played.Select(n => new PlannedNote { Note = n, Setting = horn.UsualSetting(n.Pitch), Alternatives = [] }).ToList();
        if (repeatDiffers) notes.AddRange(Repeats(notes, horn));
        return new Plan
        {
            Line = new Line { Title = "", Notes = [.. notes.Select(n => n.Note)], Tempo = TempoMap.Steady(80) },
            Instrument = horn,
            Player = new Player(),
            Notes = [.. notes],
            Changes = [.. Enumerable.Range(0, Math.Max(0, notes.Count - 1)).Select(i => Change(part, notes, i))],
            Cost = 0,
            Problems = [],
        };
    }

    /// <summary>Every third note again on a second pass, with another setting where there is one.</summary>
    private static List<PlannedNote> Repeats(List<PlannedNote> notes, Instrument horn) =>
        [.. notes.Where((_, i) => i % 3 == 0).Select((n, i) => n with
        {
            Note = n.Note with { Pass = 2, Index = notes.Count + i },
            Setting = horn.SettingsFor(n.Note.Pitch).LastOrDefault() ?? n.Setting,
        })];

    private static List<PlayedNote> Played(Part part)
    {
        var played = new List<PlayedNote>();
        var tied = false;
        foreach (var (bar, note) in part.Bars.SelectMany(b => b.Events.OfType<Note>().Select(n => (b, n))))
        {
            if (tied) played[^1] = played[^1] with { NoteIds = played[^1].NoteIds.Add(note.Id), Length = played[^1].Length + note.Duration };
            else played.Add(ToPlayed(played.Count, bar, note));
            tied = note.TieToNext;
        }

        return played;
    }

    private static PlayedNote ToPlayed(int index, Bar bar, Note note) => new()
    {
        Index = index,
        NoteIds = [note.Id],
        Bar = bar.Number,
        Beat = Beats.Quarter + note.Offset,
        Pitch = note.Pitch,
        Start = bar.Start + note.Offset,
        Length = note.Duration,
        StartTime = new(0),
        Duration = new(0.5),
        IsGrace = note.Grace != Grace.None,
    };

    private static NoteChange Change(Part part, List<PlannedNote> notes, int i)
    {
        var (a, b) = (notes[i], notes[i + 1]);
        var steps = b.Note.Pitch.Midi - a.Note.Pitch.Midi;
        return new NoteChange
        {
            Index = i,
            FromNote = i,
            ToNote = i + 1,
            Kind = KindOf(part, a, b),
            Reason = "",
            Travel = null,
            PitchMotion = steps == 0 ? PitchMotion.Same : steps > 0 ? PitchMotion.Up : PitchMotion.Down,
            SlideMotion = SlideMotion.Still,
            TimeAvailable = new(0.5),
            MoveTime = new(0.2),
            PeakSpeed = 1,
            TongueOffset = null,
            SmearIfUntongued = new(0),
            Difficulty = 0.1,
            Plausible = i % 7 != 5,
        };
    }

    private static ChangeKind KindOf(Part part, PlannedNote a, PlannedNote b)
    {
        if (part.Glissandi.Any(g => g.ToId == b.Note.NoteIds[0])) return ChangeKind.Glissando;
        if (a.Note.Pitch.Midi % 11 == 3 || a.Note.Start + a.Note.Length < b.Note.Start) return ChangeKind.Breath;
        if (a.Setting is null || b.Setting is null || b.Note.Index % 9 == 8) return ChangeKind.Tongued;
        if (a.Setting.Side.Id != b.Setting.Side.Id) return ChangeKind.ValveSlur;
        return a.Setting.Partial != b.Setting.Partial ? ChangeKind.NaturalSlur : ChangeKind.SoftTongue;
    }
}
