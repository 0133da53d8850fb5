using Seamwright.Core.Scores.Assembling;

namespace Seamwright.Core.Scores.Abc;

/// <summary>Walks through the lines of a tune: its header up to <c>K:</c>, then its music.</summary>
internal sealed class TuneReader
{
    private const string HeaderOnly = "ABCDFGHIKLMmNOPQRrSsTUVWwXZE+";

    private readonly TuneText text;
    private readonly string fileName;
    private readonly ProblemLog log;
    private readonly VoiceBook voices;
    private readonly BodyFields fields;
    private readonly MusicReader music;
    private bool lineGoesOn;

    public TuneReader(TuneText text, string fileName, ReadLimits limits, ProblemLog log)
    {
        (this.text, this.fileName, this.log) = (text, fileName, log);
        voices = new VoiceBook(Fields, limits, log);
        var symbols = new SymbolReader(log);
        fields = new BodyFields(Fields, voices, symbols, log);
        music = new MusicReader(Fields, voices, fields, symbols, limits, log);
    }

    public TuneFields Fields { get; } = new();

    public IReadOnlyList<VoiceLine> Read()
    {
        foreach (var line in text.Shared) ReadHeader(line, isShared: true);
        var first = 0;
        string? key = null;
        for (; first < text.Lines.Count && key is null && IsHeader(text.Lines[first]); first++)
        {
            if (text.Lines[first].Field == 'K') key = ValueOf(text.Lines[first]);
            else ReadHeader(text.Lines[first], isShared: false);
        }

        var keyLine = text.Lines[Math.Max(0, Math.Min(first, text.Lines.Count) - 1)];
        if (key is null) log.Note(new Place(fileName, Line: keyLine.Number, Column: 1), "The header has no key (K:); no key signature is taken.", "End the header with a K: field.");
        if (Fields.PlayOrder.Length > 1) log.Warn(new Place(fileName), "The order in which sections are played (P:) is not followed; they are read as they stand.", "Write them out, or with repeat signs.", OneLine.Of(Fields.PlayOrder));
        voices.Begin(key ?? "", (voice, value) => Prepare(voice, value, keyLine));
        foreach (var line in Continued(text.Lines.Skip(first))) ReadBody(line);
        foreach (var voice in voices.Voices) voice.Finish();
        return voices.Voices;
    }

    private static bool IsHeader(TextLine line) => line.Text.StartsWith('%') || (line.Field != '\0' && HeaderOnly.Contains(line.Field, StringComparison.Ordinal));

    private static string ValueOf(TextLine line) => TextStrings.WithoutComment(line.Text) is { Length: > 2 } whole ? whole[2..].Trim() : "";

    private void ReadHeader(TextLine line, bool isShared)
    {
        if (line.Text.StartsWith('%'))
        {
            Fields.TakeComment(line.Text);
            return;
        }

        if (line.Field == 'V' && !isShared) voices.Describe(ValueOf(line), new Scan("", line.Number));
        else if (line.Field != '\0' && Fields.Take(line.Field, ValueOf(line), line) is { } said) log.Note(new Place(fileName, Line: line.Number, Column: 1), said);
    }

    private void Prepare(VoiceLine voice, string key, TextLine keyLine)
    {
        fields.ReadKey(voice, key, new Scan("", keyLine.Number), isFirst: true);
        if (Fields.Tempo.Length > 0) fields.ReadTempo(voice, Fields.Tempo, new Scan("", Fields.TempoLine.Number));
    }

    // Section 3.3: a field goes on where a later line begins with "+:", comments between them or not.
    private IEnumerable<TextLine> Continued(IEnumerable<TextLine> lines)
    {
        TextLine? open = null;
        foreach (var line in lines)
        {
            if (line.Text.TrimStart().StartsWith('%'))
            {
                Fields.TakeComment(line.Text);
                continue;
            }

            if (line.Field == '+' && open is { } before)
            {
                open = before with { Text = $"{TextStrings.WithoutComment(before.Text)} {ValueOf(line)}" };
                continue;
            }

            if (open is { } finished) yield return finished;
            open = line;
        }

        if (open is { } last) yield return last;
    }

    private void ReadBody(TextLine line)
    {
        // Letters that are notes and rests begin no field here.
        if (line.Field is not '\0' and not (>= 'A' and <= 'G') and not (>= 'a' and <= 'g') and not ('x' or 'y' or 'z' or 'X' or 'Y' or 'Z'))
        {
            fields.Read(line.Field, ValueOf(line), new Scan("", line.Number));
            return;
        }

        var content = TextStrings.WithoutComment(line.Text);
        var voice = content.StartsWith("[V:", StringComparison.Ordinal) ? null : voices.Current;
        if (!lineGoesOn && voice is not null) BeginLine(voice);
        music.Read(new Scan(content, line.Number));
        if (voice is null) BeginLineAfterSwitch(voices.Current);
        voices.Current.Words.Adjacent = voices.Current.SymbolLines.Adjacent = false;
        lineGoesOn = content.EndsWith('\\');
    }

    private static void BeginLine(VoiceLine voice)
    {
        var first = voice.Sung.Count + (voice.HasWaiting ? 1 : 0);
        (voice.Words.LineStart, voice.SymbolLines.LineStart) = (first, first);
    }

    private static void BeginLineAfterSwitch(VoiceLine voice) => (voice.Words.LineStart, voice.SymbolLines.LineStart) = (voice.Words.Next, voice.SymbolLines.Next);
}
