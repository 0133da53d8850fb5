using Seamwright.Core.Scores.Assembling;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Abc;

/// <summary>Notes in brackets that sound at once: the top one is kept (ABC 2.1, section 4.17).</summary>
internal sealed class ChordReader(ProblemLog log)
{
    /// <summary>Reads a chord.</summary>
    /// <param name="voice">Whose it is.</param>
    /// <param name="symbols">For symbols inside.</param>
    /// <param name="tune">For letters that stand for symbols.</param>
    /// <param name="scan">At the bracket.</param>
    /// <param name="take">Takes pitch, length, whether an accidental is shown, and place.</param>
    public void Read(VoiceLine voice, SymbolReader symbols, TuneFields tune, Scan scan, Action<Pitch?, Beats, bool, Scan> take)
    {
        voice.Place();
        var at = new Scan("", scan.Line, scan.Column);
        scan.Skip();
        var notes = new List<(Pitch? Pitch, (int Times, int By) Length, bool Tied, bool Shown)>();
        while (!scan.Ended && !scan.Take(']'))
        {
            var accidental = Letters.Accidental(scan);
            if (Letters.StepOf(scan.Next) is null)
            {
                if (accidental is null) ReadMark(voice, symbols, tune, scan);
                continue;
            }

            var (step, octave) = Letters.Pitch(scan);
            var pitch = voice.PitchOf(step, octave, accidental);
            var length = Letters.Length(scan) ?? (1, 1);
            notes.Add((pitch, length, scan.Take('-'), accidental is not null));
        }

        var outside = Letters.Length(scan) ?? (1, 1);
        if (notes.Count == 0)
        {
            log.Warn(at.Here(voice.Name), "Brackets hold no note and are skipped.");
            return;
        }

        var kept = notes.Where(n => n.Pitch is not null).OrderByDescending(n => n.Pitch).Append(notes[0]).First();
        var others = notes.Where(n => n.Pitch is not null && n.Pitch != kept.Pitch).Select(n => $"{n.Pitch}").Distinct().ToList();
        if (others.Count > 0)
            log.Warn(at.Here(voice.Name), "A chord stands here; a trombone plays one note, so the top one is kept.", "Choose another voice, or write the divided parts out.", $"{kept.Pitch} stays, {string.Join(", ", others.Take(8))} goes");
        var first = notes[0].Length;
        take(kept.Pitch, voice.Unit.Times(first.Times, first.By).Times(outside.Times, outside.By), kept.Shown, at);
        if (kept.Tied) voice.Tie();
    }

    private static void ReadMark(VoiceLine voice, SymbolReader symbols, TuneFields tune, Scan scan)
    {
        var at = new Scan("", scan.Line, scan.Column);
        var c = scan.Next;
        scan.Skip();
        if (c == '"' && scan.Until('"') is { } text) symbols.Quoted(voice, text, at);
        else if (c == tune.SymbolSign && scan.Until(c) is { } name) symbols.Named(voice, name, at);
        else if (c == '.') Symbols.Take(".", voice.Marks);
        else if (tune.Symbols.TryGetValue(c, out var symbol) && symbol.Length > 0 && symbol[0] != '"') symbols.Named(voice, symbol, at);
    }
}
