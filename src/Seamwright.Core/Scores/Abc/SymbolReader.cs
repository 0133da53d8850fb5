using Seamwright.Core.Scores.Assembling;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Abc;

/// <summary>Symbols, chord symbols and annotations, at the place where they stand or on a note that has been placed.</summary>
internal sealed class SymbolReader(ProblemLog log)
{
    /// <summary>A named symbol before a note.</summary>
    public void Named(VoiceLine voice, string name, Scan scan)
    {
        if (Symbols.Take(name, voice.Marks)) return;
        var road = Symbols.Road(name);
        foreach (var sign in road) voice.Bars.Mark(sign);
        if (Symbols.Direction(name) is { } direction) voice.Bars.Say(direction.Kind, direction.Text);
        else if (road.Count == 0) Leave(voice, name, scan);
    }

    /// <summary>A chord symbol or an annotation before a note (ABC 2.1, sections 4.18 and 4.19).</summary>
    public void Quoted(VoiceLine voice, string text, Scan scan) => Quoted(voice, voice.Bars.Bar, voice.Bars.Offset, text, scan);

    /// <summary>A symbol of a symbol line, with the sign or quote that begins it.</summary>
    public void Put(VoiceLine voice, SungNote note, string symbol, Scan scan)
    {
        if (symbol[0] == '"')
        {
            Quoted(voice, note.Bar, note.Note.Offset, symbol[1..], scan);
            return;
        }

        var (name, marks) = (symbol[1..], new NoteMarks());
        if (Symbols.Take(name, marks))
        {
            note.Note.Articulations |= marks.Articulations;
            note.Note.Fermata |= marks.Fermata;
            note.Note.BreathAfter |= marks.BreathAfter;
        }
        else if (Symbols.Direction(name) is { } direction)
        {
            note.Bar.Directions.Add((null, new Direction(note.Note.Offset, direction.Kind, direction.Text)));
        }
        else
        {
            Leave(voice, name, scan);
        }
    }

    private void Quoted(VoiceLine voice, RawBar bar, Beats offset, string text, Scan scan)
    {
        if (text.Length == 0) return;
        if (text[0] is '^' or '_' or '<' or '>' or '@') AddWords(bar, offset, TextStrings.Plain(text[1..]));
        else if (ChordSymbols.IsNone(text)) bar.Chords.Add(new ChordMark(offset, null));
        else if (ChordSymbols.Read(text) is { } chord) bar.Chords.Add(new ChordMark(offset, chord.Transposed(voice.Staff.ToSound)));
        else Words(voice, bar, offset, TextStrings.Plain(text), scan);
    }

    // Many files write the words of the road and the tempo where chord symbols stand.
    private void Words(VoiceLine voice, RawBar bar, Beats offset, string text, Scan scan)
    {
        var road = Symbols.Road(text.ToLowerInvariant() switch { "fine" => "fine", "d.c." or "d.c. al fine" or "d.c. al coda" => "D.C.", "d.s." or "d.s. al fine" or "d.s. al coda" => "D.S.", "to coda" => "dacoda", _ => "" });
        foreach (var sign in road) voice.Bars.Mark(sign);
        if (road.Count > 0) return;
        log.Note(scan.Here(voice.Name), "A chord symbol names no chord that is known here; it is printed as words.", detail: $"'{text}'");
        AddWords(bar, offset, text);
    }

    private static void AddWords(RawBar bar, Beats offset, string text)
    {
        if (text.Length > 0) bar.Directions.Add((null, new Direction(offset, DirectionKind.Words, text)));
    }

    private void Leave(VoiceLine voice, string name, Scan scan) => log.Note(
        scan.Here(voice.Name), Symbols.IsOrnament(name) ? "Ornaments are not written out; the plain note is read." : $"The mark '{OneLine.Of(name)}' is left out.");
}
