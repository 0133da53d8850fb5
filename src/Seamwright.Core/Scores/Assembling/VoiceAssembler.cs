using System.Text.RegularExpressions;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Assembling;

/// <summary>Ids of the notes of a part: the file's own where they are sound, else made from bar and place.</summary>
internal sealed partial class NoteIds
{
    private readonly HashSet<string> taken = [];
    private readonly HashSet<RawNote> owners = new(ReferenceEqualityComparer.Instance);

    public NoteIds(RawPart part)
    {
        foreach (var note in part.Bars.SelectMany(b => b.Notes.Values).SelectMany(n => n))
        {
            if (note.FileId is { Length: <= 64 } id && Sound().IsMatch(id) && taken.Add(id)) owners.Add(note);
        }
    }

    public string Of(RawNote note, RawBar bar) => owners.Remove(note) ? note.FileId! : Next(bar);

    public string Next(RawBar bar)
    {
        for (; ; next++)
        {
            if (bar.Index != lastBar) (lastBar, next) = (bar.Index, 1);
            if (taken.Add($"b{bar.Index + 1}n{next}")) return $"b{bar.Index + 1}n{next++}";
        }
    }

    private int lastBar = -1;
    private int next = 1;

    [GeneratedRegex("^[A-Za-z][A-Za-z0-9_-]*$", RegexOptions.NonBacktracking)]
    private static partial Regex Sound();
}

/// <summary>A raw note that has found its place on a sheet.</summary>
/// <param name="Raw">What the file held.</param>
/// <param name="FirstId">Its first (or only) written note.</param>
/// <param name="LastId">Its last written note, where it was split into tied ones.</param>
/// <param name="Onset">From the start of the part.</param>
internal sealed record PlacedNote(RawNote Raw, string FirstId, string LastId, Beats Onset);

/// <summary>Makes one voice whole: every bar filled without gaps or overlaps.</summary>
internal sealed class VoiceAssembler(RawPart part, string voice, int staff, NoteIds ids, ProblemLog log)
{
    private readonly AccidentalMemory accidentals = new();
    private readonly List<PlacedNote> placed = [];
    private List<ScoreEvent> events = [];
    private List<(int Starts, int Stops)> tuplets = [];
    private RawBar bar = null!;
    private Beats start = Beats.Zero;
    private Beats filled = Beats.Zero;
    private (Pitch Pitch, bool Tied) before;

    /// <summary>Notes in sheet order.</summary>
    public IReadOnlyList<PlacedNote> Placed => placed;

    public List<Bar> Bars()
    {
        var bars = new List<Bar>(part.Bars.Count);
        foreach (var raw in part.Bars)
        {
            (bar, events, tuplets, filled) = (raw, [], [], Beats.Zero);
            accidentals.BeginBar(raw.WrittenKey);
            Fill(raw.Notes.GetValueOrDefault(voice) ?? []);
            Tuplets.Settle(events, tuplets);
            bars.Add(Finished(bars.Count == 0));
            start += raw.Length;
        }

        Ties.Check(bars, part, log);
        return bars;
    }

    private void Fill(List<RawNote> notes)
    {
        var rests = notes.Where(n => n.Pitch is null).ToList();
        if (rests.Count == notes.Count && (rests.Count == 0 || (rests.Count == 1 && FillsBar(rests[0]))))
        {
            WholeBarRest(rests.FirstOrDefault());
            return;
        }

        foreach (var note in WithoutCoveredRests(notes).OrderBy(n => n.Offset)) Place(note);
        Gap(bar.Length);
    }

    private bool FillsBar(RawNote rest) =>
        rest.MeasureRest || (rest.Duration == bar.Length && (rest.Value is null || rest.Value == NoteValue.Whole));

    private void WholeBarRest(RawNote? rest) => Add(new Rest
    {
        Id = rest is null ? ids.Next(bar) : ids.Of(rest, bar),
        Offset = Beats.Zero,
        Duration = bar.Length,
        Value = NoteValue.Whole,
        FillsBar = true,
        Fermata = rest?.Fermata ?? false,
    });

    // A rest that a note of the same voice lies over says nothing: what stays free is filled again.
    private static IEnumerable<RawNote> WithoutCoveredRests(List<RawNote> notes)
    {
        var sounding = notes.Where(n => n.Pitch is not null && n.Grace == Grace.None).OrderBy(n => n.Offset).ToList();
        return notes.Where(n => n.Pitch is not null || !IsCovered(n, sounding));
    }

    private static bool IsCovered(RawNote rest, List<RawNote> sounding)
    {
        // Notes are in order of onset; the last one that begins before the rest ends is the only one that can cover it,
        // unless notes overlap, which is mended elsewhere.
        var (low, high) = (0, sounding.Count);
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (sounding[middle].Offset < rest.End) low = middle + 1;
            else high = middle;
        }

        return low > 0 && sounding[low - 1].End > rest.Offset;
    }

    private void Place(RawNote note)
    {
        if (note.Grace != Grace.None)
        {
            Gap(note.Offset);
            AddNote(note, NoteValueOf(note) ?? NoteValue.Eighth, note.Duration, first: true, last: true);
            return;
        }

        if (note.Offset < filled)
        {
            if (note.Pitch is not null)
                log.Warn(Places.Of(part.Name, bar, note.Offset), "Two notes of one voice sound at once; the later one is left out.", detail: $"{note.Pitch} in voice {voice}");
            return;
        }

        Gap(note.Offset);
        if (note.Pitch is null) RestOf(note);
        else NoteOf(note);
    }

    private static NoteValue? NoteValueOf(RawNote note) => note.Value ?? Shapes.Exact(note.Duration);

    private void RestOf(RawNote rest)
    {
        if (NoteValueOf(rest) is not { } value)
        {
            Gap(rest.End);
            return;
        }

        Add(new Rest { Id = ids.Of(rest, bar), Offset = filled, Duration = rest.Duration, Value = value, Fermata = rest.Fermata }, rest);
    }

    private void NoteOf(RawNote note)
    {
        if (NoteValueOf(note) is { } value)
        {
            AddNote(note, value, note.Duration, first: true, last: true);
            return;
        }

        var pieces = Shapes.Fill(note.Offset, note.Duration);
        if (pieces.Count == 0) pieces = [new NoteValue(8)];
        log.Note(Places.Of(part.Name, bar, note.Offset), "A note's length needs more than one shape; it is written as tied notes.");
        for (var i = 0; i < pieces.Count; i++)
            AddNote(note, pieces[i], i == pieces.Count - 1 ? note.End - filled : pieces[i].Duration, i == 0, i == pieces.Count - 1);
    }

    private void AddNote(RawNote raw, NoteValue value, Beats duration, bool first, bool last)
    {
        var written = raw.Written!.Value;
        var needs = accidentals.Needs(written, before.Tied && before.Pitch == written);
        var note = new Note
        {
            Id = first ? ids.Of(raw, bar) : ids.Next(bar),
            Offset = filled,
            Duration = duration,
            Value = value,
            Pitch = raw.Pitch!.Value,
            TieToNext = !last || raw.Tied,
            Articulations = first ? raw.Articulations : Articulations.None,
            Fermata = last && raw.Fermata,
            BreathAfter = last && raw.BreathAfter,
            Grace = raw.Grace,
            CourtesyAccidental = first && raw.AccidentalShown && !needs,
            Lyric = first ? raw.Lyric : "",
            Asked = first ? raw.Asked : null,
            Setting = first ? raw.Setting : "",
        };
        before = (written, note.TieToNext);
        if (first) placed.Add(new PlacedNote(raw, note.Id, note.Id, start + filled));
        else placed[^1] = placed[^1] with { LastId = note.Id };
        Add(note, raw, first, last);
    }

    private void Gap(Beats until)
    {
        if (filled >= until) return;
        foreach (var piece in Shapes.Fill(filled, until - filled))
            Add(new Rest { Id = ids.Next(bar), Offset = filled, Duration = piece.Duration, Value = piece });
        if (filled >= until) return;

        // What is left is shorter than any shape: whatever came before it lasts that much longer.
        var rest = events.FindLastIndex(e => e is not Note { Grace: not Grace.None });
        if (rest < 0) Add(new Rest { Id = ids.Next(bar), Offset = filled, Duration = until - filled, Value = new NoteValue(8) });
        else events[rest] = Stretched(events[rest], until - events[rest].Offset);
        for (var grace = rest + 1; rest >= 0 && grace < events.Count; grace++) events[grace] = events[grace] with { Offset = until };
        filled = until;
    }

    private static ScoreEvent Stretched(ScoreEvent e, Beats duration) =>
        e with { Duration = duration, Value = Shapes.IsNear(e.Value, duration) ? e.Value : Shapes.Nearest(duration) };

    private void Add(ScoreEvent e, RawNote? raw = null, bool first = true, bool last = true)
    {
        if (e is not Note) before = default;
        events.Add(e);
        tuplets.Add((first ? raw?.TupletStarts ?? 0 : 0, last ? raw?.TupletStops ?? 0 : 0));
        filled += e.Duration;
    }

    private Bar Finished(bool isFirst)
    {
        var clefs = bar.Clefs.Where(c => c.Staff == staff && c.Mark.Offset <= bar.Length).Select(c => c.Mark).ToList();
        if (isFirst && !clefs.Exists(c => c.Offset == Beats.Zero)) clefs.Insert(0, new ClefMark(Beats.Zero, GuessedClef()));
        return new Bar
        {
            Index = bar.Index,
            Number = bar.Number,
            IsPickup = bar.IsPickup,
            Start = start,
            Length = bar.Length,
            Meter = bar.Meter,
            Key = bar.Key,
            Clefs = [.. clefs.GroupBy(c => c.Offset).Select(g => g.Last()).OrderBy(c => c.Offset)],
            Tempos = [.. bar.Tempos.Where(t => t.Offset <= bar.Length).OrderBy(t => t.Offset)],
            Directions = [.. bar.Directions.Where(d => (d.Staff is null || d.Staff == staff) && d.Direction.Offset <= bar.Length).Select(d => d.Direction).OrderBy(d => d.Offset)],
            Chords = [.. bar.Chords.Where(c => c.Offset < bar.Length).GroupBy(c => c.Offset).Select(g => g.Last()).OrderBy(c => c.Offset)],
            Section = bar.Section,
            Events = [.. events],
            Road = bar.Road,
        };
    }

    private Clef GuessedClef()
    {
        var heights = part.Bars.SelectMany(b => b.Notes.GetValueOrDefault(voice) ?? []).Select(n => n.Written).OfType<Pitch>().Select(p => (double)p.Midi).ToList();
        var clef = heights.Count > 0 && heights.Average() > 62 ? Clef.Treble : Clef.Bass;
        log.Note(new Place(part.Name), $"The file names no clef at the start; the {clef.ToString().ToLowerInvariant()} clef is taken.");
        return clef;
    }
}
