using System.Text;
using System.Xml;
using System.Xml.Linq;

namespace Seamwright.Core.Scores.MusicXml;

/// <summary>Writes MusicXML 4.0, partwise and uncompressed.</summary>
/// <remarks><para>What <see cref="MusicXmlReader"/> reads back is equal in substance: notes, rests, marks, spans, road, tempos.</para>
/// <para>Marks use elements every reader of the standard knows. The position is a <c>technical/fingering</c>: it belongs to its
/// note, takes any text, stands above and moves with the note, where <c>other-technical</c> is often dropped. Sign and syllable of
/// a change are <c>lyric</c> lines 2 and 3 (named <c>change</c> and <c>syllable</c>): lyrics are the one text below the staff that
/// is aligned in rows under the notes, and since sung words are line 1, reading a marked file again does not take marks for music.</para>
/// <para>Parts that share an id are the voices of one printed part; their bars must agree.</para></remarks>
public static class MusicXmlWriter
{
    /// <summary>Writes a score.</summary>
    /// <param name="score">As it stands on the sheet.</param>
    /// <param name="marks">By note id; null for none.</param>
    /// <param name="content">Takes UTF-8 without a byte order mark; stays open.</param>
    public static void Write(Score score, IReadOnlyDictionary<string, NoteMark>? marks, Stream content)
    {
        var settings = new XmlWriterSettings { Encoding = new UTF8Encoding(false), Indent = true, NewLineChars = "\n", CloseOutput = false };
        using var writer = XmlWriter.Create(content, settings);
        Document(score, marks ?? new Dictionary<string, NoteMark>()).Save(writer);
    }

    /// <summary>Text as XML can hold it: characters it forbids are left out.</summary>
    internal static string Clean(string text)
    {
        if (text.All(c => XmlConvert.IsXmlChar(c))) return text;
        return string.Concat(text.EnumerateRunes().Where(r => r.Value != 0xFFFD && (r.Utf16SequenceLength == 2 || XmlConvert.IsXmlChar((char)r.Value))));
    }

    /// <summary>An element with cleaned text, or null where there is none to write.</summary>
    internal static XElement? TextElement(string name, string text) => text.Length == 0 ? null : new XElement(name, Clean(text));

    private static XDocument Document(Score score, IReadOnlyDictionary<string, NoteMark> marks)
    {
        var printed = score.Parts.GroupBy(p => p.Id).Select(g => g.ToList()).ToList();
        var ids = new HashSet<string>();
        return new XDocument(new XElement("score-partwise",
            new XAttribute("version", "4.0"),
            score.Title.Length > 0 ? new XElement("work", TextElement("work-title", score.Title)) : null,
            TextElement("movement-title", score.Subtitle),
            Identification(score),
            new XElement("part-list", printed.Select((voices, i) => ListedPart(voices[0], i))),
            printed.Select((voices, i) => new XElement("part", new XAttribute("id", PartId(voices[0], i)), new PartWriter(voices, marks, ids).Measures()))));
    }

    private static XElement Identification(Score score) => new("identification",
        score.Composer.Length > 0 ? new XElement("creator", new XAttribute("type", "composer"), Clean(score.Composer)) : null,
        TextElement("rights", score.Rights),
        new XElement("encoding", new XElement("software", "Seamwright")));

    private static XElement ListedPart(Part part, int index) =>
        new("score-part", new XAttribute("id", PartId(part, index)), new XElement("part-name", Clean(part.Name)));

    // The standard wants an XML name; anything else is numbered.
    private static string PartId(Part part, int index)
    {
        try
        {
            return XmlConvert.VerifyNCName(part.Id);
        }
        catch (Exception e) when (e is XmlException or ArgumentException)
        {
            return $"Part{index + 1}";
        }
    }
}
