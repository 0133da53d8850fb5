using Seamwright.Core.Scores.Abc;
using Seamwright.Core.Scores.Assembling;
using Seamwright.Core.Scores.Midi;
using Seamwright.Core.Scores.MusicXml;

namespace Seamwright.Core.Scores;

/// <summary>Reads a score of any format that is known here: MusicXML (plain or compressed), MIDI or ABC.</summary>
/// <remarks>The file is told by its content; its name only decides where plain text says nothing of itself.</remarks>
public static class AnyScore
{
    /// <summary>What can be read, for messages and help: names and usual endings.</summary>
    public const string Kinds = "MusicXML (.musicxml, .xml, .mxl), MIDI (.mid) or ABC (.abc)";

    /// <summary>Reads a score.</summary>
    /// <param name="content">The file, from its current place to its end.</param>
    /// <param name="fileName">Named in messages; its ending counts for text without a mark of its own.</param>
    /// <param name="limits">Null for <see cref="ReadLimits.Default"/>.</param>
    /// <returns>A score of at least one part, or an <see cref="Severity.Error"/> that says what is wrong with the file.</returns>
    public static Outcome<Score> Read(Stream content, string fileName, ReadLimits? limits = null)
    {
        var within = limits ?? ReadLimits.Default;
        if (within.Validate() is { IsEmpty: false } wrong) return Outcome<Score>.Failed(wrong);
        try
        {
            return Read(WholeFile.Read(content, within.MostBytes), fileName, within);
        }
        catch (LimitException e)
        {
            return Outcome<Score>.Failed(fileName, $"The file {e.Message}", "A part for one instrument is far smaller: export the part alone.");
        }
    }

    private static Outcome<Score> Read(byte[] bytes, string fileName, ReadLimits limits)
    {
        using var content = new MemoryStream(bytes, writable: false);
        if (bytes.Length == 0) return Outcome<Score>.Failed(fileName, "The file is empty.");
        if (Unpacking.IsArchive(bytes) || Unpacking.LooksLikeXml(bytes)) return MusicXmlReader.Read(content, fileName, limits);
        if (MidiBytes.LookLikeMidi(bytes)) return MidiReader.Read(content, fileName, limits);
        if (AbcReader.LooksLikeAbc(bytes) || fileName.EndsWith(".abc", StringComparison.OrdinalIgnoreCase)) return AbcReader.Read(content, fileName, limits);
        return Outcome<Score>.Failed(fileName, "This is no score that can be read here.", $"Export it as {Kinds}.");
    }
}
