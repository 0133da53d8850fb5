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
/// <para>Parts that share an id are written as the voices of one printed part where they share a staff, that is where bars, clefs
/// and directions agree; a voice from another staff is written as a part of its own.</para></remarks>
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
        var printed = Printed(score);
        var partIds = PartIds(printed);
        var ids = new HashSet<string>(partIds);
        return new XDocument(new XElement("score-partwise",
            new XAttribute("version", "4.0"),
            score.Title.Length > 0 ? new XElement("work", TextElement("work-title", score.Title)) : null,
            TextElement("movement-title", score.Subtitle),
            Identification(score),
            new XElement("part-list", printed.Select((voices, i) => ListedPart(voices[0], partIds[i]))),
            printed.Select((voices, i) => new XElement("part", new XAttribute("id", partIds[i]), new PartWriter(voices, marks, ids).Measures()))));
    }

    private static XElement Identification(Score score) => new("identification",
        score.Composer.Length > 0 ? new XElement("creator", new XAttribute("type", "composer"), Clean(score.Composer)) : null,
        TextElement("rights", score.Rights),
        new XElement("encoding", new XElement("software", "Seamwright")));

    private static XElement ListedPart(Part part, string id) =>
        new("score-part", new XAttribute("id", id), new XElement("part-name", Clean(part.Name)));

    private static List<List<Part>> Printed(Score score)
    {
        var printed = new List<List<Part>>();
        foreach (var part in score.Parts)
        {
            if (printed.Find(p => p[0].Id == part.Id && ShareAStaff(p[0], part)) is { } staff) staff.Add(part);
            else printed.Add([part]);
        }

        return printed;
    }

    private static bool ShareAStaff(Part a, Part b) => a.Bars.Length == b.Bars.Length
        && a.Bars.Zip(b.Bars).All(p => p.First.Length == p.Second.Length && p.First.Clefs.SequenceEqual(p.Second.Clefs) && p.First.Directions.SequenceEqual(p.Second.Directions) && p.First.Chords.SequenceEqual(p.Second.Chords));

    // The standard wants XML names that differ; anything else is numbered.
    private static List<string> PartIds(List<List<Part>> printed)
    {
        var taken = new HashSet<string>();
        return [.. printed.Select((voices, i) => IsName(voices[0].Id) && taken.Add(voices[0].Id) ? voices[0].Id : Unused(taken, i + 1))];
    }

    private static string Unused(HashSet<string> taken, int number)
    {
        while (!taken.Add($"Part{number}")) number++;
        return $"Part{number}";
    }

    private static bool IsName(string id) => id.Length > 0 && XmlConvert.IsStartNCNameChar(id[0]) && id.All(XmlConvert.IsNCNameChar);
}
