using System.IO.Compression;
using System.Text;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores.Midi;
using Seamwright.Core.Scores.MusicXml;
using Seamwright.Core.Sound.PlayAlong;
using Seamwright.Engraving;

namespace Seamwright.Pack;

/// <summary>One piece as it is handed out: the sheet, the part as MusicXML and MIDI, and a play-along with cue sheet and time map.</summary>
/// <param name="sheet">The piece, planned.</param>
/// <param name="look">Of the sheet.</param>
public sealed class PiecePack(PlannedSheet sheet, SheetOptions look)
{
    /// <summary>MusicXML with positions, kinds of change and syllables.</summary>
    public void WriteMusicXml(Stream output)
    {
        var part = look.Clef is { } clef ? sheet.Part.InClef(clef) : sheet.Part;
        MusicXmlWriter.Write(sheet.Score with { Parts = [part] }, PlanMarks.Of(sheet.Plan, look.Syllable), output);
    }

    /// <summary>The line as it is played, repeats written out.</summary>
    public void WriteMidi(Stream output) => MidiWriter.Write(sheet.Plan.Line, output);

    /// <summary>All of it in one zip.</summary>
    /// <param name="output">Gets the zip.</param>
    /// <param name="printed">The sheet.</param>
    /// <param name="printedAt">For the sheet's own data.</param>
    /// <param name="schedule">Of the play-along.</param>
    /// <param name="sound">Its sound file.</param>
    public void Write(Stream output, EngravedSheet printed, DateTimeOffset printedAt, Schedule schedule, string sound)
    {
        using var zip = new ZipArchive(output, ZipArchiveMode.Create, leaveOpen: true);
        var played = $"play-along{Path.GetExtension(sound)}";
        Add("sheet.pdf", s => printed.WritePdf(s, printedAt));
        Add("part.musicxml", WriteMusicXml);
        Add("part.mid", WriteMidi);
        Add("play-along.cues.txt", s =>
        {
            using var writer = new StreamWriter(s, new UTF8Encoding(false), leaveOpen: true);
            CueSheet.Write(schedule, writer);
        });
        Add("play-along.time-map.json", s => TimeMapJson.Write(schedule, played, s));
        zip.CreateEntryFromFile(sound, played, CompressionLevel.NoCompression);

        void Add(string name, Action<Stream> write)
        {
            using var entry = zip.CreateEntry(name).Open();
            write(entry);
        }
    }
}
