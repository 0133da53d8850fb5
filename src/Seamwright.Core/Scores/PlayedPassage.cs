using Seamwright.Core.Units;

namespace Seamwright.Core.Scores;

/// <summary>A note on its way from the sheet to the line.</summary>
internal sealed class SoundingNote(Note first, int place)
{
    public Note First { get; } = first;

    public List<string> Ids { get; } = [first.Id];

    public required string Bar { get; init; }

    public required Beats Beat { get; init; }

    public required int Pass { get; init; }

    public required string Dynamic { get; init; }

    /// <summary>Reached by a skip, at the very start of its bar: as if it followed the note before the skip.</summary>
    public required bool AfterSkip { get; init; }

    /// <summary>Place of its first written note among the part's notes.</summary>
    public int FirstPlace { get; } = place;

    /// <summary>Place of its last written note among the part's notes.</summary>
    public int LastPlace { get; set; } = place;

    public Beats Start { get; set; }

    public Beats Length { get; set; }

    public bool TieOpen { get; set; }

    public bool Fermata { get; set; }

    public bool BreathAfter { get; set; }

    public bool Slurred { get; set; }

    public bool Glissando { get; set; }

    public bool IsGrace => First.Grace != Grace.None;

    public Beats End => Start + Length;
}

/// <summary>The notes along a road, ties joined, with the bars, tempos and held rests met on the way.</summary>
internal sealed class PlayedPassage
{
    private readonly Part part;
    private readonly Dictionary<string, int> placeOf = [];
    private readonly bool[] slurred;
    private readonly bool[] sliding;
    private string dynamic = "";
    private double? tempoInForce;
    private (Beats Start, bool Rises)? opened;

    private PlayedPassage(Part part)
    {
        this.part = part;
        foreach (var note in part.Notes) placeOf.TryAdd(note.Id, placeOf.Count);
        slurred = Covered(part.Slurs);
        sliding = Covered(part.Glissandi);
    }

    public List<SoundingNote> Notes { get; } = [];

    public List<PlayedBar> Bars { get; } = [];

    /// <summary>Tempo marks as met, in order; a null tempo is what ruled before the first mark of the sheet.</summary>
    public List<(Beats At, double? QuartersPerMinute)> Tempos { get; } = [];

    /// <summary>Chord symbols as met, in order, none twice in a row.</summary>
    public List<PlayedChord> Chords { get; } = [];

    /// <summary>Dynamic marks as met.</summary>
    public List<PlayedDynamic> Dynamics { get; } = [];

    /// <summary>Hairpins as met, closed.</summary>
    public List<PlayedHairpin> Hairpins { get; } = [];

    /// <summary>Rests under a fermata.</summary>
    public List<(Beats Start, Beats Length)> HeldRests { get; } = [];

    public static PlayedPassage Along(Part part, IReadOnlyList<RoadStep> steps)
    {
        var passage = new PlayedPassage(part);
        var inForce = passage.InForceAtBars();
        var start = Beats.Zero;
        foreach (var step in steps)
        {
            if (step.Arrival != Arrival.Straight) passage.CloseHairpin(start);
            if (step.Arrival == Arrival.Back) passage.Restore(inForce[step.Bar], start);
            passage.Play(part.Bars[step.Bar], step, start);
            start += part.Bars[step.Bar].Length;
        }

        passage.CloseHairpin(start);
        passage.Join();
        return passage;
    }

    // True for every note that the span joins to the note after it.
    private bool[] Covered(IEnumerable<Span> spans)
    {
        var edges = new int[placeOf.Count + 1];
        foreach (var span in spans)
        {
            if (!placeOf.TryGetValue(span.FromId, out var from) || !placeOf.TryGetValue(span.ToId, out var to) || to <= from) continue;
            edges[from]++;
            edges[to]--;
        }

        var covered = new bool[placeOf.Count];
        for (int i = 0, open = 0; i < covered.Length; i++) covered[i] = (open += edges[i]) > 0;
        return covered;
    }

    private List<InForce> InForceAtBars()
    {
        var list = new List<InForce>(part.Bars.Length);
        var (d, t, c) = ("", (double?)null, (Chord?)null);
        foreach (var bar in part.Bars)
        {
            list.Add(new InForce(d, t, c));
            c = bar.Chords.IsEmpty ? c : bar.Chords[^1].Chord;
            d = bar.Directions.LastOrDefault(x => x.Kind == DirectionKind.Dynamic)?.Text ?? d;
            t = bar.Tempos.LastOrDefault(x => x.QuartersPerMinute is not null)?.QuartersPerMinute ?? t;
        }

        return list;
    }

    private void Restore(InForce inForce, Beats at)
    {
        dynamic = inForce.Dynamic;
        Sound(inForce.Chord, at);
        if (tempoInForce == inForce.Tempo) return;
        Tempos.Add((at, inForce.Tempo));
        tempoInForce = inForce.Tempo;
    }

    // Of two symbols at one place the later one holds; a symbol that changes nothing is none.
    private void Sound(Chord? chord, Beats at)
    {
        if (Chords.Count > 0 && Chords[^1].Start == at) Chords.RemoveAt(Chords.Count - 1);
        if (chord != (Chords.Count > 0 ? Chords[^1].Chord : null)) Chords.Add(new PlayedChord(at, chord));
    }

    private void Play(Bar bar, RoadStep step, Beats start)
    {
        Bars.Add(new PlayedBar(bar.Number, start, bar.Length, bar.Meter, step.Pass) { Index = step.Bar, Key = bar.Key, Shift = BarCount.ShiftOf(part, bar) });
        foreach (var mark in bar.Chords) Sound(mark.Chord, start + mark.Offset);
        foreach (var tempo in bar.Tempos.Where(t => t.QuartersPerMinute is not null))
        {
            Tempos.Add((start + tempo.Offset, tempo.QuartersPerMinute));
            tempoInForce = tempo.QuartersPerMinute;
        }

        foreach (var mark in bar.Directions.Where(d => d.Kind is DirectionKind.Crescendo or DirectionKind.Diminuendo or DirectionKind.HairpinEnd).OrderBy(d => d.Offset))
        {
            CloseHairpin(start + mark.Offset);
            if (mark.Kind != DirectionKind.HairpinEnd) opened = (start + mark.Offset, mark.Kind == DirectionKind.Crescendo);
        }

        var dynamics = new Queue<Direction>(bar.Directions.Where(d => d.Kind == DirectionKind.Dynamic));
        foreach (var mark in dynamics.OrderBy(d => d.Offset)) Dynamics.Add(new PlayedDynamic(start + mark.Offset, mark.Text));
        foreach (var e in bar.Events)
        {
            while (dynamics.TryPeek(out var next) && next.Offset <= e.Offset) dynamic = dynamics.Dequeue().Text;
            if (e is Note note) Play(bar, note, step, start);
            else if (e.Fermata) HeldRests.Add((start + e.Offset, e.Duration));
        }

        while (dynamics.TryDequeue(out var late)) dynamic = late.Text;
    }

    // A jump ends it too: what is played then stands elsewhere on the sheet.
    private void CloseHairpin(Beats at)
    {
        if (opened is { } o && at > o.Start) Hairpins.Add(new PlayedHairpin(o.Start, at, o.Rises));
        opened = null;
    }

    private void Play(Bar bar, Note note, RoadStep step, Beats start)
    {
        var place = placeOf[note.Id];
        var afterSkip = step.Arrival == Arrival.Skip && note.Offset == Beats.Zero && bar.Events[0] == note;
        if (Notes.Count > 0 && Notes[^1] is { TieOpen: true } held && held.First.Pitch == note.Pitch && held.End == start + note.Offset
            && note.Grace == Grace.None && (place == held.LastPlace + 1 || afterSkip))
        {
            Extend(held, note, place);
            return;
        }

        Notes.Add(new SoundingNote(note, place)
        {
            Bar = bar.Number,
            Beat = BarCount.BeatOf(part, bar, note.Offset),
            Pass = step.Pass,
            Dynamic = dynamic,
            AfterSkip = afterSkip,
            Start = start + note.Offset,
            Length = note.Duration,
            TieOpen = note.TieToNext,
            Fermata = note.Fermata,
            BreathAfter = note.BreathAfter,
        });
    }

    private static void Extend(SoundingNote held, Note note, int place)
    {
        held.Ids.Add(note.Id);
        held.Length += note.Duration;
        held.LastPlace = place;
        held.TieOpen = note.TieToNext;
        held.Fermata |= note.Fermata;
        held.BreathAfter |= note.BreathAfter;
    }

    // A line over two notes joins them only where they follow one another on the sheet, or over a skip, and without a rest.
    private void Join()
    {
        for (var i = 0; i + 1 < Notes.Count; i++)
        {
            var (a, b) = (Notes[i], Notes[i + 1]);
            if (a.End != b.Start || !(b.FirstPlace == a.LastPlace + 1 || b.AfterSkip)) continue;
            a.Slurred = slurred[a.LastPlace];
            a.Glissando = sliding[a.LastPlace];
        }
    }

    /// <summary>What the sheet has in force at the left edge of a bar.</summary>
    private readonly record struct InForce(string Dynamic, double? Tempo, Chord? Chord);
}
