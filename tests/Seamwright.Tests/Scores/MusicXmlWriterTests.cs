using System.Xml;
using System.Xml.Linq;
using System.Xml.Schema;
using CsCheck;
using Seamwright.Core.Scores;
using Seamwright.Core.Scores.MusicXml;
using Seamwright.Core.Units;
using static Seamwright.Tests.Scores.Files;

namespace Seamwright.Tests.Scores;

public class MusicXmlWriterTests
{
    [Fact]
    public void Reading_back_what_was_written_gives_the_same_score() => Gen.Int[0, 1_000_000].Sample(seed =>
    {
        var score = InventedScores.From(seed);
        var read = Read(Written(score));
        Assert.Equal(Dump.Of(score), Dump.Of(read.Value));
        Assert.DoesNotContain(read.Problems, p => p.Severity != Core.Severity.Note);
    }, iter: 500);

    [Fact]
    public void Everything_written_is_valid_MusicXML_4()
    {
        var schema = OpenSchema.OrSkip();
        Gen.Int[0, 1_000_000].Sample(seed =>
        {
            var score = InventedScores.From(seed);
            Assert.Empty(schema.Errors(Written(score, MarksFor(score))));
        }, iter: 200);
    }

    [Fact]
    public void The_schema_check_itself_sees_a_fault() =>
        Assert.NotEmpty(OpenSchema.OrSkip().Errors(Utf8("<score-partwise version=\"4.0\"><part-list/></score-partwise>")));

    [Fact]
    public void Marks_are_written_on_their_notes_and_are_not_read_as_music()
    {
        var score = InventedScores.From(7);
        var id = score.Parts[0].Notes.First(n => n.Grace == Grace.None).Id;

        var bytes = Written(score, new Dictionary<string, NoteMark> { [id] = new("F♭2", "⌒", "du") });

        var note = XDocument.Load(new MemoryStream(bytes)).Descendants("note").Single(n => (string?)n.Attribute("id") == id);
        Assert.Equal("F♭2", note.Element("notations")!.Element("technical")!.Element("fingering")!.Value);
        Assert.Equal(["⌒", "du"], note.Elements("lyric").Where(l => (int)l.Attribute("number")! > 1).Select(l => l.Element("text")!.Value));
        Assert.Equal(Dump.Of(score), Dump.Of(Read(bytes).Value));
    }

    [Fact]
    public void A_tie_over_the_bar_line_carries_its_accidental_and_both_its_ends()
    {
        var tied = N("Bb2", 48).Replace("<voice>", "<tie type=\"start\"/><voice>", StringComparison.Ordinal);

        var notes = XDocument.Load(new MemoryStream(Written(Read(Partwise(tied, N("Bb2", 24) + N("Bb2", 24))).Value))).Descendants("note").ToList();

        Assert.Equal(["flat", null, "flat"], notes.Select(n => n.Element("accidental")?.Value));
        Assert.Equal(["start", "stop", ""], notes.Select(n => string.Join(' ', n.Elements("tie").Select(t => (string?)t.Attribute("type")))));
    }

    [Fact]
    public void A_voice_of_another_staff_is_written_as_a_part_of_its_own()
    {
        var score = Read(Partwise(Start.Replace("<clef>", "<staves>2</staves><clef number=\"1\">") + "<attributes><clef number=\"2\"><sign>C</sign><line>3</line></clef></attributes>"
            + N("C3", 48) + "<backup><duration>48</duration></backup>" + N("C4", 48, "<staff>2</staff>", "2"))).Value;

        var again = Read(Written(score)).Value;

        Assert.Equal(["Bass C3", "Alto C4"], again.Parts.Select(p => $"{p.Bars[0].Clefs[0].Clef} {p.Notes.Single().Pitch}"));
    }

    [Fact]
    public void Text_that_XML_cannot_hold_is_left_out()
    {
        var score = InventedScores.From(3) with { Title = "Bell\u0007 and 𝄞 \uD800 end" };

        Assert.Equal("Bell and 𝄞 end", Read(Written(score)).Value.Title);
    }

    [Fact]
    public void Writing_twice_gives_the_same_bytes() => Assert.Equal(Written(InventedScores.From(11)), Written(InventedScores.From(11)));

    [Fact]
    public void A_part_that_turns_to_the_brass_band_clef_is_written_a_ninth_higher_from_there()
    {
        var part = ReadPart(N("Bb2", 48), N("Bb2", 48));
        var turned = part with { Bars = [part.Bars[0], part.Bars[1] with { Clefs = [new ClefMark(Core.Units.Beats.Zero, Clef.TrebleBb)] }] };

        var bytes = Written(new Score { Parts = [turned] });

        Assert.Equal(["2", "4"], XDocument.Load(new MemoryStream(bytes)).Descendants("octave").Select(o => o.Value));
        Assert.Equal(Dump.Of(new Score { Parts = [turned] }), Dump.Of(Read(bytes).Value));
    }

    private static Dictionary<string, NoteMark> MarksFor(Score score) =>
        score.Parts.SelectMany(p => p.Notes).Select((n, i) => (n.Id, Mark: new NoteMark($"F♭{i % 7 + 1}", i % 2 == 0 ? "⌒" : "", i % 3 == 0 ? "du" : ""))).ToDictionary(m => m.Id, m => m.Mark);
}

/// <summary>The open standard's schema, offline.</summary>
internal sealed class OpenSchema
{
    private readonly XmlSchemaSet set = new() { XmlResolver = null };

    private OpenSchema(string path)
    {
        foreach (var file in new[] { "xml.xsd", "xlink.xsd", "musicxml.xsd" })
        {
            using var reader = XmlReader.Create(Path.Combine(Path.GetDirectoryName(path)!, file), new XmlReaderSettings { DtdProcessing = DtdProcessing.Ignore, XmlResolver = null });
            set.Add(null, reader);
        }

        set.Compile();
    }

    public static OpenSchema OrSkip()
    {
        if (Schema() is not { } path)
        {
            Assert.Skip("reason: the MusicXML 4.0 schema is missing; set SEAMWRIGHT_SHARED to the folder above reference/musicxml.xsd.");
            throw new InvalidOperationException();
        }

        return new OpenSchema(path);
    }

    public List<string> Errors(byte[] document)
    {
        var errors = new List<string>();
        var settings = new XmlReaderSettings { ValidationType = ValidationType.Schema, Schemas = set, DtdProcessing = DtdProcessing.Ignore, XmlResolver = null };
        settings.ValidationEventHandler += (_, e) => errors.Add($"{e.Exception.LineNumber}: {e.Message}");
        using var reader = XmlReader.Create(new MemoryStream(document), settings);
        while (reader.Read())
        {
        }

        return errors;
    }
}
