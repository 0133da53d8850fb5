using Seamwright.Core.Scores.Assembling;

namespace Seamwright.Core.Scores.MusicXml;

/// <summary>What hangs on a note: ties, slurs, tuplets, articulations, breath, fermata, dynamics, lyrics.</summary>
internal static class NotationReader
{
    /// <param name="element">The note element.</param>
    /// <param name="note">Takes the marks.</param>
    /// <param name="bar">Takes dynamics; null where they are not wanted.</param>
    /// <param name="at">For messages.</param>
    /// <param name="log">For messages.</param>
    public static void Read(Element element, RawNote note, RawBar? bar, Cursor at, ProblemLog log)
    {
        note.Tied = element.All("tie").Any(t => t.Says("type", "start"));
        note.AccidentalShown = element.Has("accidental");
        note.Lyric = Lyric(element);
        note.Setting = Header.Words(Task(element, "play", "other-play", Names.SettingTask));
        if (ChangeIntentNames.TryParse(Task(element, "listen", "other-listen", Names.LegatoTask), out var asked)) note.Asked = asked;
        foreach (var mark in element.All("notations").SelectMany(n => n.Children)) ReadMark(mark, note, bar, at, log);
    }

    private static string? Task(Element element, string group, string name, string type) =>
        element.Child(group)?.All(name).FirstOrDefault(t => t.Says("type", type))?.Text.Trim();

    private static void ReadMark(Element mark, RawNote note, RawBar? bar, Cursor at, ProblemLog log)
    {
        switch (mark.Name)
        {
            case "tied": note.Tied |= mark.Says("type", "start"); break;
            case "slur": AddSpan(mark, note, isGlissando: false); break;
            case "glissando" or "slide": AddSpan(mark, note, isGlissando: true); break;
            case "tuplet" when mark.Says("type", "start"): note.TupletStarts++; break;
            case "tuplet": note.TupletStops++; break;
            case "fermata": note.Fermata = true; break;
            case "articulations": foreach (var a in mark.Children) ReadArticulation(a, note, at, log); break;
            case "dynamics" when bar is not null: bar.Directions.AddRange(DirectionReader.Dynamics(mark, at.Offset).Select(d => ((int?)note.Staff, d))); break;
            case "ornaments" when mark.Children.Count > 0: log.Note(at.Place, "Ornaments are not written out; the plain note is read."); break;
        }
    }

    private static void AddSpan(Element mark, RawNote note, bool isGlissando)
    {
        MarkEdge? edge = mark.Attribute("type") switch { "start" => MarkEdge.Start, "stop" => MarkEdge.Stop, _ => null };
        if (edge is { } e) note.Spans.Add(new SpanMark(isGlissando, e, Numbers.Whole(mark.Attribute("number")) ?? 1));
    }

    private static void ReadArticulation(Element mark, RawNote note, Cursor at, ProblemLog log)
    {
        if (mark.Name is "breath-mark" or "caesura")
        {
            note.BreathAfter = true;
            return;
        }

        var known = Array.Find(Names.Articulation, a => a.Name == mark.Name);
        if (known.Name is not null) note.Articulations |= known.Mark;
        else if (mark.Name is not ("stress" or "unstress")) log.Note(at.Place, $"The mark '{Header.Words(mark.Name)}' is left out.");
    }

    // The first verse only; a hyphen at the end says that the word goes on.
    private static string Lyric(Element element)
    {
        var verse = element.All("lyric").FirstOrDefault(l => l.Attribute("number") is null or "" or "1");
        if (verse is null) return "";
        var text = string.Concat(verse.Children.Where(c => c.Name is "text" or "elision").Select(c => c.Name == "text" ? c.Text : "‿"));
        var syllable = Header.Words(text);
        return syllable.Length > 0 && verse.TextOf("syllabic") is "begin" or "middle" ? syllable + "-" : syllable;
    }
}
