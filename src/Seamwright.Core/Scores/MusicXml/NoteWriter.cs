using System.Numerics;
using System.Xml.Linq;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.MusicXml;

/// <summary>Writes the notes and rests of one voice.</summary>
internal sealed class NoteWriter
{
    private readonly Part part;
    private readonly IReadOnlyDictionary<string, NoteMark> marks;
    private readonly HashSet<string> ids;
    private readonly Func<Beats, BigInteger> ticks;
    private readonly AccidentalMemory accidentals = new();
    private readonly SpanNumbers slurs;
    private readonly SpanNumbers glissandi;
    private IReadOnlyDictionary<string, List<string>> beams = new Dictionary<string, List<string>>();
    private bool tiedInto;
    private bool insideWord;

    public NoteWriter(Part part, IReadOnlyDictionary<string, NoteMark> marks, HashSet<string> ids, Func<Beats, BigInteger> ticks)
    {
        (this.part, this.marks, this.ids, this.ticks) = (part, marks, ids, ticks);
        slurs = new SpanNumbers(part.Slurs);
        glissandi = new SpanNumbers(part.Glissandi);
    }

    public void BeginBar(Bar bar, KeySignature written)
    {
        accidentals.BeginBar(written);
        beams = Beams.Of(part, bar);
    }

    public XElement Note(ScoreEvent e, Interval transposition)
    {
        var note = e as Note;
        var written = note?.Pitch + transposition;
        var element = new XElement("note");
        if (ids.Add(e.Id)) element.Add(new XAttribute("id", e.Id));
        if (note is { Grace: not Grace.None }) element.Add(new XElement("grace", note.Grace == Grace.Slashed ? new XAttribute("slash", "yes") : null));
        element.Add(written is { } p ? PitchElement(p) : new XElement("rest", e is Rest { FillsBar: true } ? new XAttribute("measure", "yes") : null));
        if (note is null or { Grace: Grace.None }) element.Add(new XElement("duration", ticks(e.Duration)));
        if (tiedInto) element.Add(Edge("tie", "stop"));
        if (note is { TieToNext: true }) element.Add(Edge("tie", "start"));
        element.Add(new XElement("voice", MusicXmlWriter.Clean(part.Voice)));
        if (e is not Rest { FillsBar: true }) AddShape(element, e, note, written);
        foreach (var (beam, level) in beams.GetValueOrDefault(e.Id, []).Select((b, i) => (b, i + 1)))
            element.Add(new XElement("beam", new XAttribute("number", level), beam));
        element.Add(Notations(e, note));
        if (note is not null) AddLyrics(element, note);
        if (note is not null) element.Add(Task(note));
        tiedInto = note is { TieToNext: true };
        return element;
    }

    private static XElement PitchElement(Pitch p) => new("pitch",
        new XElement("step", p.Step), p.Alter == 0 ? null : new XElement("alter", p.Alter), new XElement("octave", p.Octave));

    // Where MusicXML 4.0 keeps how a note is played and what a listening program is to make of it.
    private static IEnumerable<XElement> Task(Note note)
    {
        if (note.Setting.Length > 0) yield return new("play", new XElement("other-play", new XAttribute("type", Names.SettingTask), MusicXmlWriter.Clean(note.Setting)));
        if (note.Asked is { } asked) yield return new("listen", new XElement("other-listen", new XAttribute("type", Names.LegatoTask), asked.WireName()));
    }

    private static XElement Edge(string name, string type) => new(name, new XAttribute("type", type));

    private void AddShape(XElement element, ScoreEvent e, Note? note, Pitch? written)
    {
        element.Add(new XElement("type", Names.NoteTypes[e.Value.Base + 1]));
        for (var i = 0; i < e.Value.Dots; i++) element.Add(new XElement("dot"));
        if (note is not null && written is { } p)
        {
            var needs = accidentals.Needs(p, tiedInto);
            if (needs || note.CourtesyAccidental)
                element.Add(new XElement("accidental", needs ? null : new XAttribute("cautionary", "yes"), Names.Accidental(p.Alter)));
        }

        if (!e.Value.InTuplet) return;
        element.Add(new XElement("time-modification", new XElement("actual-notes", e.Value.TupletActual), new XElement("normal-notes", e.Value.TupletNormal)));
    }

    private XElement? Notations(ScoreEvent e, Note? note)
    {
        var notations = new XElement("notations");
        if (tiedInto) notations.Add(Edge("tied", "stop"));
        if (note is { TieToNext: true }) notations.Add(Edge("tied", "start"));
        foreach (var (type, number) in slurs.At(e.Id)) notations.Add(new XElement("slur", new XAttribute("type", type), new XAttribute("number", number)));
        if (e.TupletEdge != TupletEdge.None) notations.Add(Edge("tuplet", e.TupletEdge == TupletEdge.Start ? "start" : "stop"));
        foreach (var (type, number) in glissandi.At(e.Id))
            notations.Add(new XElement("slide", new XAttribute("type", type), new XAttribute("number", number), new XAttribute("line-type", "solid")));
        if (marks.TryGetValue(e.Id, out var mark) && mark.Position.Length > 0)
            notations.Add(new XElement("technical", new XElement("fingering", new XAttribute("placement", "above"), MusicXmlWriter.Clean(mark.Position))));
        if (note is not null) notations.Add(Articulations(note));
        if (e.Fermata) notations.Add(Edge("fermata", "upright"));
        return notations.HasElements ? notations : null;
    }

    private static XElement? Articulations(Note note)
    {
        var list = Names.Articulation.DistinctBy(a => a.Mark).Where(a => note.Articulations.HasFlag(a.Mark)).Select(a => new XElement(a.Name)).ToList();
        if (note.BreathAfter) list.Add(new XElement("breath-mark", "comma"));
        return list.Count == 0 ? null : new XElement("articulations", list);
    }

    private void AddLyrics(XElement element, Note note)
    {
        if (note.Lyric.Length > 0)
        {
            var goesOn = note.Lyric.Length > 1 && note.Lyric.EndsWith('-');
            var syllabic = (insideWord, goesOn) switch { (false, true) => "begin", (true, true) => "middle", (true, false) => "end", _ => "single" };
            element.Add(Lyric(1, null, syllabic, goesOn ? note.Lyric[..^1] : note.Lyric));
            insideWord = goesOn;
        }

        if (!marks.TryGetValue(note.Id, out var mark)) return;
        if (mark.Change.Length > 0) element.Add(Lyric(2, "change", "single", mark.Change));
        if (mark.Syllable.Length > 0) element.Add(Lyric(3, "syllable", "single", mark.Syllable));
    }

    private static XElement Lyric(int number, string? name, string syllabic, string text) => new("lyric",
        new XAttribute("number", number), name is null ? null : new XAttribute("name", name),
        new XElement("syllabic", syllabic), new XElement("text", MusicXmlWriter.Clean(text)));
}

/// <summary>Numbers the slurs or lines of a voice so that those open at once differ.</summary>
internal sealed class SpanNumbers(IEnumerable<Span> spans)
{
    // The standard's number levels end at 16.
    private const int Levels = 16;

    private readonly ILookup<string, Span> starts = spans.Where(s => s.FromId != s.ToId).ToLookup(s => s.FromId);
    private readonly Dictionary<string, List<int>> stops = [];
    private readonly HashSet<int> open = [];

    /// <summary>Ends, then beginnings, at a note; to be asked once for each note in sheet order.</summary>
    public List<(string Type, int Number)> At(string id)
    {
        var edges = new List<(string, int)>();
        if (stops.Remove(id, out var ending))
        {
            open.ExceptWith(ending);
            edges.AddRange(ending.Select(n => ("stop", n)));
        }

        foreach (var span in starts[id])
        {
            var number = Enumerable.Range(1, Levels).FirstOrDefault(n => !open.Contains(n), Levels);
            open.Add(number);
            if (!stops.TryGetValue(span.ToId, out var list)) stops[span.ToId] = list = [];
            list.Add(number);
            edges.Add(("start", number));
        }

        return edges;
    }
}
