using System.Text;
using System.Xml;

namespace Seamwright.Core.Scores.MusicXml;

/// <summary>One XML element as read, with its place in the file.</summary>
/// <remarks>A tree of our own rather than the framework's: it is bounded in depth and count while it grows, keeps lines for
/// messages, and forgets namespaces, comments and processing instructions, none of which MusicXML uses for music.</remarks>
internal sealed class Element(string name, int line, int column)
{
    private List<Element>? children;
    private Dictionary<string, string>? attributes;
    private StringBuilder? text;

    public string Name { get; } = name;

    public int Line { get; } = line;

    public int Column { get; } = column;

    public IReadOnlyList<Element> Children => children ?? (IReadOnlyList<Element>)[];

    /// <summary>Its own text without that of its children, trimmed.</summary>
    public string Text => text?.ToString().Trim() ?? "";

    public string? Attribute(string key) => attributes?.GetValueOrDefault(key);

    public bool Says(string key, string value) => Attribute(key) == value;

    public Element? Child(string childName)
    {
        foreach (var c in Children)
        {
            if (c.Name == childName) return c;
        }

        return null;
    }

    public bool Has(string childName) => Child(childName) is not null;

    public string? TextOf(string childName) => Child(childName)?.Text;

    public IEnumerable<Element> All(string childName) => Children.Where(c => c.Name == childName);

    /// <summary>Reads a whole document.</summary>
    /// <exception cref="XmlException">Not well-formed.</exception>
    /// <exception cref="LimitException">Too deep, too long or too many elements.</exception>
    public static Element Read(byte[] document, ReadLimits limits)
    {
        using var reader = Reader(document, Settings(limits));
        var open = new Stack<Element>();
        Element? root = null;
        var count = 0;
        while (reader.Read())
        {
            switch (reader.NodeType)
            {
                case XmlNodeType.Element:
                    if (++count > limits.MostElements) throw new LimitException($"has more than {limits.MostElements} elements.");
                    if (open.Count >= limits.MostDepth) throw new LimitException($"nests elements deeper than {limits.MostDepth}.");
                    var element = Start(reader);
                    if (open.TryPeek(out var parent)) (parent.children ??= []).Add(element);
                    root ??= element;
                    if (!reader.IsEmptyElement) open.Push(element);
                    break;
                case XmlNodeType.EndElement:
                    open.Pop();
                    break;
                case XmlNodeType.Text or XmlNodeType.CDATA when open.TryPeek(out var holder):
                    (holder.text ??= new StringBuilder()).Append(reader.Value);
                    break;
            }
        }

        return root ?? throw new XmlException("The document has no element.");
    }

    // Some files were turned into UTF-8 and still call themselves UTF-16: their bytes are believed, not their words.
    private static XmlReader Reader(byte[] document, XmlReaderSettings settings)
    {
        var content = new MemoryStream(document, writable: false);
        var start = Encoding.Latin1.GetString(document, 0, Math.Min(document.Length, 200)).TrimStart('\u00EF', '\u00BB', '\u00BF');
        var saysUtf16 = start.StartsWith("<?xml", StringComparison.Ordinal) && start.Contains("encoding=\"UTF-16", StringComparison.OrdinalIgnoreCase);
        return saysUtf16 ? XmlReader.Create(new StreamReader(content, Encoding.UTF8), settings) : XmlReader.Create(content, settings);
    }

    // A MusicXML file carries a document type by custom: it is skipped, nothing is fetched and no entity is expanded.
    private static XmlReaderSettings Settings(ReadLimits limits) => new()
    {
        DtdProcessing = DtdProcessing.Ignore,
        XmlResolver = null,
        MaxCharactersInDocument = limits.MostBytes,
        MaxCharactersFromEntities = 1024,
        IgnoreComments = true,
        IgnoreProcessingInstructions = true,
        IgnoreWhitespace = true,
    };

    private static Element Start(XmlReader reader)
    {
        var info = (IXmlLineInfo)reader;
        var element = new Element(reader.LocalName, info.LineNumber, info.LinePosition);
        if (!reader.HasAttributes) return element;
        element.attributes = new(reader.AttributeCount);
        while (reader.MoveToNextAttribute()) element.attributes[reader.LocalName] = reader.Value;
        reader.MoveToElement();
        return element;
    }
}
