using Seamwright.Core.Scores.Assembling;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Abc;

/// <summary>Reads lines of music, sign by sign (ABC 2.1, section 4).</summary>
internal sealed class MusicReader(TuneFields tune, VoiceBook voices, BodyFields fields, SymbolReader symbols, ReadLimits limits, ProblemLog log)
{
    private int notes;

    private VoiceLine Voice => voices.Current;

    /// <summary>Reads one line.</summary>
    public void Read(Scan scan)
    {
        while (!scan.Ended)
        {
            if (Voice.Overlaid > 0) PassOver(scan);
            else ReadSign(scan);
        }
    }

    private void ReadSign(Scan scan)
    {
        var c = scan.Next;
        if (c is ' ' or '\t' or '`' or '\\' or '$') scan.Skip();
        else if (BarSymbol.StandsAt(scan)) ReadBar(scan);
        else if (c == '[') ReadBracket(scan);
        else if (c == '(') ReadOpening(scan);
        else if (c == '{') new GraceReader(log).Read(Voice, scan);
        else if (Letters.StepOf(c) is not null || c is '^' or '_' or '=') ReadNote(scan);
        else if (c is 'z' or 'x' or 'Z' or 'X' or 'y') ReadRest(scan);
        else if (c is ')' or '-' or '<' or '>') ReadAfterNote(scan);
        else if (c == '"') ReadQuoted(scan);
        else if (c == tune.SymbolSign || c == '!') ReadSymbol(scan);
        else if (c == '&') ReadOverlay(scan);
        else ReadShort(scan);
    }

    private void ReadBar(Scan scan)
    {
        Voice.EndBar(BarSymbol.Read(scan), scan);
        ReadEnding(scan);
    }

    private void ReadEnding(Scan scan)
    {
        if (BarSymbol.EndingNumbers(scan) is { Count: > 0 } numbers) Voice.Bars.BeginEnding(numbers);
    }

    private void ReadBracket(Scan scan)
    {
        if (char.IsAsciiLetter(scan.Peek(1)) && scan.Peek(2) == ':') ReadInline(scan);
        else if (char.IsAsciiDigit(scan.Peek(1))) ReadBracketedEnding(scan);
        else new ChordReader(log).Read(Voice, symbols, tune, scan, Take);
    }

    private void ReadInline(Scan scan)
    {
        var at = new Scan("", scan.Line, scan.Column);
        scan.Skip();
        var field = scan.Next;
        scan.Skip(2);
        if (scan.Until(']') is { } value) fields.Read(field, value, at);
        else Skipped(scan, scan.Rest());
    }

    private void ReadBracketedEnding(Scan scan)
    {
        Voice.Place();
        if (Voice.Bars.Bar.Extent > Beats.Zero)
        {
            log.Warn(scan.Here(Voice.Name), "An ending begins inside a bar; a bar line is put before it.");
            Voice.EndBar(default, scan);
        }

        scan.Skip();
        ReadEnding(scan);
    }

    private void ReadOpening(Scan scan)
    {
        Voice.Place();
        scan.Skip();
        if (!char.IsAsciiDigit(scan.Next))
        {
            Voice.BeginSlur();
            return;
        }

        var place = scan.Here(Voice.Name);
        var tuplet = Tuplet(scan);
        if (Voice.InTuplet) log.Note(place, "A tuplet begins before the last one is full.");
        if (tuplet is { } t) Voice.BeginTuplet(t.Actual, t.Normal, t.Count);
        else log.Warn(place, "A tuplet's numbers cannot be used; its notes are read plain.", "Write (3 or (3:2:3, with 2 to 64 notes.");
    }

    // Section 4.13: what is not said follows from the meter and the number of notes.
    private (int Actual, int Normal, int Count)? Tuplet(Scan scan)
    {
        var actual = scan.Number() ?? 0;
        var (normal, count) = ((int?)null, (int?)null);
        if (scan.Take(':'))
        {
            normal = scan.Number();
            if (scan.Take(':')) count = scan.Number();
        }

        var compound = Voice.Bars.Meter is { BeatUnit: 8, Beats: 6 or 9 or 12 };
        normal ??= actual switch { 2 or 4 or 8 => 3, 3 or 6 => 2, _ => compound ? 3 : 2 };
        count ??= actual;
        return actual is >= 2 and <= 63 && normal is >= 1 and <= 64 && count is >= 1 and <= 64 ? (actual, normal.Value, count.Value) : null;
    }

    private void ReadNote(Scan scan)
    {
        var at = new Scan("", scan.Line, scan.Column);
        var accidental = Letters.Accidental(scan);
        if (Letters.StepOf(scan.Next) is null)
        {
            log.Warn(at.Here(Voice.Name), "An accidental stands before no note and is left out.");
            return;
        }

        var (step, octave) = Letters.Pitch(scan);
        Take(Pitch(step, octave, accidental, at), Length(scan), accidental is not null, at);
    }

    private Pitch? Pitch(Step step, int octave, int? accidental, Scan at)
    {
        var pitch = Voice.PitchOf(step, octave, accidental);
        if (pitch is null) log.Warn(at.Here(Voice.Name), "A pitch lies outside anything that can be played; a rest stands for it.");
        return pitch;
    }

    private Beats Length(Scan scan)
    {
        var place = scan.Here(Voice.Name);
        if (Letters.Length(scan) is { } length) return Voice.Unit.Times(length.Times, length.By);
        log.Warn(place, "A note length cannot be used; the unit note length is taken.", "Lengths lie between 1/1024 and 1024 units.");
        return Voice.Unit;
    }

    private void Take(Pitch? pitch, Beats length, bool accidentalShown, Scan at)
    {
        if (++notes > limits.MostNotes) throw new LimitException($"holds more than {limits.MostNotes} notes.");
        Voice.Add(pitch, length, accidentalShown, at);
    }

    private void ReadRest(Scan scan)
    {
        var at = new Scan("", scan.Line, scan.Column);
        var c = scan.Next;
        scan.Skip();
        if (c is 'z' or 'x') Take(null, Length(scan), false, at);
        else if (c == 'y') Letters.Length(scan);
        else Voice.Rest(Math.Min(scan.Number() ?? 1, limits.MostBars), at);
    }

    private void ReadAfterNote(Scan scan)
    {
        var place = scan.Here(Voice.Name);
        var c = scan.Next;
        var count = c is '<' or '>' ? scan.Count(c) : 1;
        if (c is ')' or '-') scan.Skip();
        var done = c switch
        {
            ')' => Voice.EndSlur(),
            '-' => Voice.Tie(),
            _ => count <= 3 && Voice.Break(count, longFirst: c == '>'),
        };
        if (!done) log.Warn(place, c switch { ')' => "A slur ends that never began; it is left out.", '-' => "A tie stands after no note and is left out.", _ => "A sign for broken rhythm stands after no note, or has more than three strokes, and is left out." });
    }

    private void ReadQuoted(Scan scan)
    {
        Voice.Place();
        var at = new Scan("", scan.Line, scan.Column);
        scan.Skip();
        if (scan.Until('"') is { } text) symbols.Quoted(Voice, text, at);
        else Skipped(at, scan.Rest());
    }

    // Section 12.2: a mark with no partner in the same bar only breaks the line.
    private void ReadSymbol(Scan scan)
    {
        var at = new Scan("", scan.Line, scan.Column);
        var sign = scan.Next;
        scan.Skip();
        var ahead = 0;
        while (scan.Peek(ahead) is not ('\0' or ' ' or '|' or '[' or ']' or ':') && scan.Peek(ahead) != sign) ahead++;
        if (scan.Peek(ahead) != sign || (sign == '!' && tune.MarksBreakLines))
        {
            if (sign != '!') Skipped(at, $"{sign}");
            return;
        }

        Voice.Place();
        symbols.Named(Voice, scan.Until(sign)!, at);
    }

    private void ReadShort(Scan scan)
    {
        var c = scan.Next;
        var place = new Scan("", scan.Line, scan.Column);
        scan.Skip();
        if (c == '.' && scan.Next is '(' or ')' or '-') return;
        if (c == '.')
        {
            Voice.Place();
            Symbols.Take(".", Voice.Marks);
        }
        else if (tune.Symbols.TryGetValue(c, out var name))
        {
            Voice.Place();
            if (name.StartsWith('"')) symbols.Quoted(Voice, name.Trim('"'), place);
            else if (name.Length > 0) symbols.Named(Voice, name, place);
        }
        else if (c is not ('#' or '*' or ';' or '?' or '@'))
        {
            Skipped(place, $"{c}");
        }
    }

    private void ReadOverlay(Scan scan)
    {
        Voice.Place();
        log.Warn(scan.Here(Voice.Name), "A second voice is laid over the bar; it is left out.", "Write it as a voice of its own.");
        Voice.OverlaidFromBarLine = Voice.Bars.Bar.Extent == Beats.Zero;
        Voice.Overlaid = scan.Count('&');
    }

    // Section 7.4: each sign goes back by one bar line; what follows is another voice for so many bars.
    private void PassOver(Scan scan)
    {
        if (!BarSymbol.StandsAt(scan))
        {
            var c = scan.Next;
            scan.Skip();
            if (c == '"') scan.Until('"');
            else if (c == '[' && scan.Peek(1) == ':') scan.Until(']');
            return;
        }

        Voice.Overlaid--;
        if (Voice.Overlaid == 0 && !Voice.OverlaidFromBarLine) return;
        BarSymbol.Read(scan);
        BarSymbol.EndingNumbers(scan);
    }

    private void Skipped(Scan at, string text) => log.Warn(at.Here(Voice.Name), $"'{OneLine.Of(text)}' is no sign of the notation here and is skipped.");
}
