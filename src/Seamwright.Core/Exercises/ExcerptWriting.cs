using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>Copies the bars of a stretch of played notes.</summary>
internal sealed class ExcerptWriting(Part part, Plan plan, int first, int last, Func<NoteChange, ChangeIntent?> asked)
{
    private readonly List<Bar> bars = [];
    private readonly Dictionary<(int Note, string Written), string> idOf = [];
    private int ids;

    /// <summary>The part; chord symbols, lyrics and directions other than dynamics are left out.</summary>
    public Part Write()
    {
        var (from, to) = (plan.Notes[first].Note.Start, plan.Notes[last].Note.End);
        var played = plan.Line.Bars.Where(b => b.End > from && b.Start < to).ToList();
        foreach (var bar in played) Copy(bar);
        return new Part { Id = part.Id, Name = part.Name, Bars = [.. bars], Slurs = Slurs(), Glissandi = Glissandi() };
    }

    private void Copy(PlayedBar played)
    {
        var source = part.Bars[played.Index];
        ImmutableArray<ScoreEvent> events = [.. source.Events.Select(e => Copied(e, played)).OfType<ScoreEvent>()];

        // A grace note may borrow its time from a bar that is not meant.
        if (bars.Count == 0 && !events.Any(e => e is Note)) return;
        bars.Add(source with
        {
            Index = bars.Count,
            Number = $"{bars.Count + 1}",
            Start = bars.Count == 0 ? Beats.Zero : bars[^1].Start + bars[^1].Length,
            Chords = [],
            Directions = [.. source.Directions.Where(d => d.Kind == DirectionKind.Dynamic && events.Any(e => e is Note && e.Offset <= d.Offset && d.Offset < e.Offset + e.Duration))],
            Section = "",
            Road = BarRoad.Straight,
            Events = events,
        });
    }

    // What is not meant is silent; grace notes go without a trace.
    private ScoreEvent? Copied(ScoreEvent e, PlayedBar bar) => e switch
    {
        Note note when PlayedAs(note, bar) is { } played => Prescribed(note, played),
        Note { Grace: not Grace.None } => null,
        Note note => new Rest { Id = $"x{++ids}", Offset = note.Offset, Duration = note.Duration, Value = note.Value, TupletEdge = note.TupletEdge },
        _ => e with { Id = $"x{++ids}" },
    };

    private Note Prescribed(Note note, PlannedNote played)
    {
        var begins = played.Note.NoteIds[0] == note.Id;
        return note with
        {
            Id = idOf[(played.Note.Index, note.Id)] = $"x{++ids}",
            Lyric = "",
            Setting = begins && played.Setting is { } s ? SettingPattern.Of(s).ToString() : "",
            Asked = begins && played.Note.Index > first ? asked(plan.Changes[played.Note.Index - 1]) : null,
        };
    }

    // A repeated bar holds the same ids twice: the played note that sounds here is meant. Grace notes shift beginnings by less than a beat.
    private PlannedNote? PlayedAs(Note note, PlayedBar bar)
    {
        var place = bar.Start + note.Offset;
        return plan.Notes.Skip(first).Take(last - first + 1).FirstOrDefault(n => n.Note.NoteIds.Contains(note.Id)
            && ((place >= n.Note.Start && place < n.Note.End) || Math.Abs((n.Note.Start - place).ToDouble()) < 1));
    }

    // Drawn anew over the played notes, so that a slur that leaves the stretch ends with it.
    private ImmutableArray<Span> Slurs()
    {
        var spans = ImmutableArray.CreateBuilder<Span>();
        for (var i = first; i < last; i++)
        {
            var start = i;
            while (i < last && plan.Notes[i].Note.SlurredToNext) i++;
            if (i > start) spans.Add(new Span(Begin(start), End(i)));
        }

        return spans.ToImmutable();
    }

    private ImmutableArray<Span> Glissandi() =>
        [.. Enumerable.Range(first, last - first).Where(i => plan.Notes[i].Note.GlissandoToNext).Select(i => new Span(End(i), Begin(i + 1)))];

    private string Begin(int note) => idOf[(note, plan.Notes[note].Note.NoteIds[0])];

    private string End(int note) => idOf[(note, plan.Notes[note].Note.NoteIds[^1])];
}
