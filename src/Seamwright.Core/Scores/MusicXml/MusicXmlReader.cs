using System.Xml;
using Seamwright.Core.Scores.Assembling;

namespace Seamwright.Core.Scores.MusicXml;

/// <summary>Reads MusicXML 1.0–4.0: partwise and timewise, plain or compressed.</summary>
/// <remarks>The file is told by its content, never by its name. It is untrusted: nothing outside it is opened, no entity is
/// expanded, and <see cref="ReadLimits"/> bound what it may cost. Whatever a monophonic part cannot hold becomes a
/// <see cref="Problem"/> with bar and beat, and the rest is read; equal problems are said once with their places.
/// Source: W3C Music Notation Community Group, MusicXML 4.0 (Community Group Final Report, 2021).</remarks>
public static class MusicXmlReader
{
    /// <summary>Reads a score.</summary>
    /// <param name="content">The file, from its current place to its end.</param>
    /// <param name="fileName">Named in messages only.</param>
    /// <param name="limits">Null for <see cref="ReadLimits.Default"/>.</param>
    /// <returns>A score of at least one part, or an <see cref="Severity.Error"/> that says what is wrong with the file.</returns>
    public static Outcome<Score> Read(Stream content, string fileName, ReadLimits? limits = null)
    {
        var within = limits ?? ReadLimits.Default;
        if (within.Validate() is { IsEmpty: false } wrong) return Outcome<Score>.Failed(wrong);
        try
        {
            return ReadDocument(WholeFile.Read(content, within.MostBytes), fileName, within);
        }
        catch (LimitException e)
        {
            return Outcome<Score>.Failed(fileName, $"The file {e.Message}", "A part for one instrument is far smaller: export the part alone.");
        }
    }

    private static Outcome<Score> ReadDocument(byte[] bytes, string fileName, ReadLimits limits)
    {
        try
        {
            if (bytes.Length == 0) return Outcome<Score>.Failed(fileName, "The file is empty.");
            var document = Unpacking.IsArchive(bytes) ? Unpacking.Score(bytes, limits) : bytes;
            if (!Unpacking.LooksLikeXml(document))
            {
                return Outcome<Score>.Failed(fileName, "This is not a MusicXML file: it begins with neither XML nor a compressed archive.",
                    "Export the score as MusicXML (.musicxml or .mxl).");
            }

            return ReadRoot(Element.Read(document, limits), fileName, limits);
        }
        catch (XmlException e)
        {
            var where = e.LineNumber > 0 ? $"{fileName}, line {e.LineNumber}, position {e.LinePosition}" : fileName;
            return Outcome<Score>.Failed(where, $"The XML is broken: {e.Message}", "The file may be cut short: export or copy it again.");
        }
        catch (Exception e) when (Unpacking.IsArchive(bytes) && e is InvalidDataException or NotSupportedException or IOException or ArgumentException or OverflowException)
        {
            return Outcome<Score>.Failed(fileName, $"The compressed file cannot be unpacked: {e.Message}", "It may be cut short: export or copy it again.");
        }
    }

    private static Outcome<Score> ReadRoot(Element root, string fileName, ReadLimits limits)
    {
        if (root.Name is not ("score-partwise" or "score-timewise"))
        {
            return Outcome<Score>.Failed($"{fileName}, line {root.Line}", $"This XML is not a MusicXML score: its outermost element is <{root.Name}>.",
                root.Name == "opus" ? "It lists other files: open one of those." : "A score begins with <score-partwise> or <score-timewise>.");
        }

        var log = new ProblemLog();
        var sources = Layout.Parts(root, limits, log);
        var raw = sources.Select(s => new PartReader(s, limits, log).Read()).ToList();
        if (raw.Sum(r => (long)r.Bars.Count * Math.Max(1, r.Voices.Count)) > limits.MostBarsInAll)
            throw new LimitException($"holds more than {limits.MostBarsInAll} bars in all its voices.");
        SystemMarks.Share(raw);
        var parts = raw.SelectMany(r => PartAssembler.Assemble(r, log)).ToList();
        if (parts.Count == 0)
        {
            return Outcome<Score>.Failed(
                [new Problem(fileName, "The score holds no part with a bar in it.", "Export it again with at least one part.", Severity.Error), .. log.Condensed()]);
        }

        return Outcome<Score>.Of(Header.Read(root, parts), log.Condensed());
    }
}
