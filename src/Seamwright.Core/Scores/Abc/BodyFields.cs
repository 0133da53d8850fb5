using Seamwright.Core.Scores.Assembling;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Abc;

/// <summary>Information fields inside the music, on lines of their own or in brackets (ABC 2.1, sections 3.2 and 7).</summary>
internal sealed class BodyFields(TuneFields tune, VoiceBook voices, SymbolReader symbols, ProblemLog log)
{
    // No tune of one line needs more signs than this in one field.
    private const int MostWords = 64;

    /// <summary>Takes a field.</summary>
    /// <param name="field">Its letter.</param>
    /// <param name="value">What follows the colon, without comment.</param>
    /// <param name="scan">Where it stands.</param>
    public void Read(char field, string value, Scan scan)
    {
        var voice = voices.Current;
        if (field == 'V')
        {
            voices.Switch(value, scan);
            return;
        }

        if (field is 'w' or 's') ReadAligned(voice, field, value, scan);
        else if (field is 'K' or 'M' or 'L' or 'Q' or 'P' or 'T') ReadMusic(voice, field, value, scan);
        else if (field is 'U' or 'I' or 'm') Say(tune.Take(field, value, default), scan, voice);
        else if (field is not ('N' or 'R' or 'r' or 'W' or '+' or 'B' or 'D' or 'F' or 'S' or 'H' or 'O' or 'G' or 'Z' or 'C' or 'A'))
            log.Note(scan.Here(voice.Name), $"A field '{field}:' is not known in the music and is left out.");
    }

    /// <summary>The key, clef and transposition of a voice.</summary>
    public void ReadKey(VoiceLine voice, string value, Scan scan, bool isFirst)
    {
        var words = Staff.Words(value);
        var said = new List<string>();
        if (words.Count > MostWords) words.RemoveRange(MostWords, words.Count - MostWords);
        var staff = voice.Staff.With(words, said);
        foreach (var what in said) log.Note(scan.Here(voice.Name), what);
        var key = KeyField.Read(words, out var wrong);
        if (wrong is not null) log.Warn(scan.Here(voice.Name), "A key cannot be read.", "Write it as K:Bb or K:Gm.", OneLine.Of($"'{wrong}'"));
        if (key is { IsPrinted: false }) log.Note(scan.Here(voice.Name), "A key signature that is not traditional is printed as accidentals before the notes.");
        if (voice.Bars.Bar.Extent > Beats.Zero && key is not null && key.Signature != voice.Bars.Key.Signature)
            log.Note(scan.Here(voice.Name), "A key changes inside the bar; its signature is printed from the next bar on.");
        voice.SetStaff(staff);
        if (key is not null || isFirst) voice.Bars.Key = key ?? AbcKey.None;
    }

    /// <summary>A tempo at the place of a voice.</summary>
    public void ReadTempo(VoiceLine voice, string value, Scan scan)
    {
        if (TimeFields.Tempo(value, voice.Bars.Offset, voice.Unit) is { } tempo) voice.Bars.Bar.Tempos.Add(tempo);
        else log.Warn(scan.Here(voice.Name), "A tempo cannot be used and is left out.", "Write it as Q:1/4=100, between 1 and 1000 quarter notes a minute.", OneLine.Of($"'{value}'"));
    }

    private void ReadMusic(VoiceLine voice, char field, string value, Scan scan)
    {
        voice.Place();
        switch (field)
        {
            case 'K': ReadKey(voice, value, scan, isFirst: false); break;
            case 'M': ReadMeter(voice, value, scan); break;
            case 'L' when TimeFields.Unit(value) is { } unit: voice.Unit = unit; break;
            case 'L': log.Warn(scan.Here(voice.Name), "A unit note length cannot be used; the one before it stays.", "Write it as L:1/8.", OneLine.Of($"'{value}'")); break;
            case 'Q': ReadTempo(voice, value, scan); break;
            case 'P': voice.Bars.Say(DirectionKind.RehearsalMark, TextStrings.Plain(value)); break;
            case 'T' when TextStrings.Plain(value) is { Length: > 0 } title: voice.Bars.Say(DirectionKind.Words, title); break;
        }
    }

    private void ReadMeter(VoiceLine voice, string value, Scan scan)
    {
        var meter = TimeFields.Meter(value, out var free);
        if (meter is null && !free)
        {
            log.Warn(scan.Here(voice.Name), "A meter cannot be used; the one before it stays.", "The upper number lies between 1 and 64, the lower is a power of two up to 64.", OneLine.Of($"'{value}'"));
            return;
        }

        if (voice.Bars.Bar.Extent > Beats.Zero) log.Note(scan.Here(voice.Name), "A meter changes inside the bar; it holds from the next bar on.");
        voice.Bars.Meter = meter;
    }

    private void ReadAligned(VoiceLine voice, char field, string value, Scan scan)
    {
        voice.Place();
        var line = field == 'w' ? voice.Words : voice.SymbolLines;
        var first = line.Adjacent ? line.Before : tune.IsStrict ? line.Next : Math.Max(line.Next, line.LineStart);
        if (field == 'w' && line.Adjacent)
        {
            log.Note(scan.Here(voice.Name), "A further verse is left out; the first one stands under the notes.");
            return;
        }

        var steps = field == 'w' ? AlignedText.Syllables(value) : AlignedText.Symbols(value);
        var lost = AlignedText.Give(voice.Sung, first, steps, (note, text) => Give(voice, field, note, text, scan));
        if (lost > 0) log.Note(scan.Here(voice.Name), field == 'w' ? "There are more syllables than notes; the last ones are left out." : "There are more symbols than notes; the last ones are left out.");
        (line.Before, line.Next, line.Adjacent) = (first, voice.Sung.Count, true);
    }

    private void Give(VoiceLine voice, char field, SungNote note, string text, Scan scan)
    {
        if (field == 'w') note.Note.Lyric = text;
        else symbols.Put(voice, note, text, scan);
    }

    private void Say(string? what, Scan scan, VoiceLine voice)
    {
        if (what is not null) log.Note(scan.Here(voice.Name), what);
    }
}
