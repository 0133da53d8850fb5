using Seamwright.Core.Scores.Assembling;

namespace Seamwright.Core.Scores.Abc;

/// <summary>Reads one tune in ABC notation 2.1.</summary>
/// <remarks><para>Each voice becomes a part; the letter C is middle C in every clef, as the standard says. Files that do not name their
/// version are read loosely (section 12.2). Whatever a monophonic part cannot hold becomes a <see cref="Problem"/> with line and column,
/// and the rest is read; equal problems are said once with their places. <see cref="ReadLimits"/> bound what a file may cost.</para>
/// <para>Departures: where no clef is named a low tune gets the bass clef; the order of parts (<c>P:</c> in the header) and macros are not
/// followed but said; further verses and overlaid voices are left out.</para>
/// <para>Source: The abc music standard 2.1 (December 2011).</para></remarks>
public static class AbcReader
{
    /// <summary>Reads a tune.</summary>
    /// <param name="content">The file, from its current place to its end.</param>
    /// <param name="fileName">Named in messages only.</param>
    /// <param name="limits">Null for <see cref="ReadLimits.Default"/>.</param>
    /// <param name="tune">The reference number (<c>X:</c>) of a tune in a file of several; null for the first.</param>
    /// <returns>A score of at least one part, or an <see cref="Severity.Error"/> that says what is wrong with the file.</returns>
    public static Outcome<Score> Read(Stream content, string fileName, ReadLimits? limits = null, int? tune = null)
    {
        var within = limits ?? ReadLimits.Default;
        if (within.Validate() is { IsEmpty: false } wrong) return Outcome<Score>.Failed(wrong);
        try
        {
            return Read(AbcLines.Of(WholeFile.Read(content, within.MostBytes)), fileName, within, tune);
        }
        catch (LimitException e)
        {
            return Outcome<Score>.Failed(fileName, $"The file {e.Message}", "A part for one instrument is far smaller: keep the tune alone.");
        }
    }

    /// <summary>Whether bytes look like ABC: a line that begins with the version mark, or with <c>X:</c> or <c>K:</c>.</summary>
    public static bool LooksLikeAbc(ReadOnlySpan<byte> bytes)
    {
        foreach (var mark in (ReadOnlySpan<string>)["%abc", "X:", "K:"])
        {
            var at = 0;
            while (at < bytes.Length)
            {
                var found = bytes[at..].IndexOf(System.Text.Encoding.ASCII.GetBytes(mark));
                if (found < 0) break;
                at += found;
                if (at == 0 || bytes[at - 1] is (byte)'\n' or (byte)'\r' || (at == 3 && bytes.StartsWith(System.Text.Encoding.UTF8.Preamble))) return true;
                at++;
            }
        }

        return false;
    }

    // Section 2.1 wants both fields; what somebody noted down in haste at least has bars.
    private static bool IsSign(TextLine line) => line.Field is 'X' or 'K' || line.Text.Contains('|', StringComparison.Ordinal) || line.Text.StartsWith("%abc", StringComparison.Ordinal);

    private static Outcome<Score> Read(List<TextLine> lines, string fileName, ReadLimits limits, int? number)
    {
        if (lines.TrueForAll(l => l.IsEmpty)) return Outcome<Score>.Failed(fileName, "The file is empty.");
        if (!lines.Exists(IsSign)) return Outcome<Score>.Failed(fileName, "No line begins with X: or K: and there is no bar line, so this is no tune in ABC.", "Begin the tune with X:1 and end its header with K: and the key.");
        if (TuneText.Pick(lines, number) is not { } text)
            return Outcome<Score>.Failed(fileName, $"There is no tune X:{number}.", $"The tunes are {string.Join(", ", TuneText.References(lines).Take(20).Select(OneLine.Of))}.");
        var log = new ProblemLog();
        if (text.Others > 0 && number is null)
            log.Note(new Place(fileName, Line: text.Lines[0].Number, Column: 1), $"The file holds {text.Others + 1} tunes; the first is read.", "Keep the wanted tune alone in a file to read that one.");
        var reader = new TuneReader(text, fileName, limits, log);
        var voices = reader.Read();
        var raw = voices.Select(v => v.Bars.Part).Where(p => p.Bars.Count > 0).ToList();
        if (raw.Sum(r => (long)r.Bars.Count) > limits.MostBarsInAll) throw new LimitException($"holds more than {limits.MostBarsInAll} bars in all its voices.");
        SystemMarks.Share(raw);
        var parts = raw.SelectMany(r => PartAssembler.Assemble(r, log)).ToList();
        if (parts.Count == 0)
        {
            return Outcome<Score>.Failed(
                [new Problem(fileName, "The tune holds no notes.", "Music stands after the K: field; an empty line ends the tune.", Severity.Error), .. log.Condensed()]);
        }

        return Outcome<Score>.Of(reader.Fields.Score(parts), log.Condensed());
    }
}
