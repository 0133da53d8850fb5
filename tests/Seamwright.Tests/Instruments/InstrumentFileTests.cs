using System.Text;
using Seamwright.Core;
using Seamwright.Core.Instruments;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Instruments;

public class InstrumentFileTests
{
    private static Outcome<Instrument> Read(string json) => InstrumentFile.Read(new MemoryStream(Encoding.UTF8.GetBytes(json)), "horn.json");

    [Fact]
    public void The_documented_example_is_read()
    {
        var docs = File.ReadAllText(Path.Combine(Repository.Root, "docs", "instrument-file.md"));
        var from = docs.IndexOf("```json", StringComparison.Ordinal) + 7;
        var bass = Read(docs[from..docs.IndexOf("```", from, StringComparison.Ordinal)]).Value;
        Assert.Equal("my-bass", bass.Id);
        Assert.Equal(["open", "F", "F+D"], bass.Sides.Select(s => s.Id));
        Assert.Equal(442, bass.A4.Value);
        Assert.Equal(28.1, bass.TravelAt(4).Value, 1e-9);
        Assert.Equal(-12, bass.PartialOffsets[2].Value);
        Assert.Equal(62.5, bass.FurthestTravel.Value);
    }

    [Fact]
    public void A_minimal_file_is_the_catalogues_instrument()
    {
        var own = Read("""{"schema":"seamwright.instrument/1","id":"x","pedal":"Bb1","valves":[{"id":"F","pedal":"F1"}]}""").Value;
        foreach (var midi in Enumerable.Range(30, 47))
            Assert.Equal(Catalogue.Default.SettingsFor(Pitch.FromMidi(midi)).Select(s => s.Label), own.SettingsFor(Pitch.FromMidi(midi)).Select(s => s.Label));
    }

    [Fact]
    public void Tubing_of_independent_valves_adds_up_where_no_pitch_is_given()
    {
        var bass = Read("""
            {"schema":"seamwright.instrument/1","id":"x","pedal":"Bb1",
             "valves":[{"id":"F","pedal":"F1"},{"id":"Gb","pedal":"Gb1"}],
             "combinations":[{"valves":["F","Gb"],"label":"D"}]}
            """).Value;
        double L(string id) => bass.Sides.Single(s => s.Id == id).EffectiveLength.Value;
        Assert.Equal(L("F") + L("Gb") - L("open"), L("F+Gb"), 1e-9);
        Assert.InRange(bass.Sides[^1].Fundamental.Above(Pitch.Parse("D1").Frequency(Hertz.A440)).Value, -10, -6);
    }

    [Fact]
    public void Partial_offsets_move_the_slide()
    {
        var sharp = Read("""{"schema":"seamwright.instrument/1","id":"x","pedal":"Bb1","partialOffsetsCents":{"4":20}}""").Value;
        var setting = sharp.SettingsFor(Pitch.Parse("Bb3")).Single(s => s.Partial == 4);
        Assert.Equal(Tube.TravelFor(sharp.Open.EffectiveLength, 0.2).Value, setting.Travel.Value, 1e-9);
        Assert.Equal(-20, setting.Correction.Value, 1e-9);
        Assert.Equal(0, sharp.Sounding(setting).Above(Pitch.Parse("Bb3").Frequency(Hertz.A440)).Value, 1e-9);
    }

    [Fact]
    public void Every_mistake_is_told_at_once_with_its_path()
    {
        var outcome = Read("""
            {"schema":"other","pedal":"H2","a4":"high","air":{"temperatureC":45,"wind":3},
             "effectiveLengthM":2.9,"measuredTravel":{"cm":28},
             "valves":[{"id":"F"},{"id":"F","pedal":"C3"},{"pedal":"F1","needs":["Z"]}],
             "combinations":[{"valves":["F","Q"]}],"partialOffsetsCents":{"x":1,"3":500},"colour":"gold","usualClef":"treble"}
            """);
        Assert.False(outcome.Succeeded);
        string[] paths =
        [
            "$.schema", "$.id", "$.pedal", "$.a4", "$.air.temperatureC", "$.air.wind", "$.valves[0]",
            "$.valves[2].id", "$.combinations[0].valves", "$.partialOffsetsCents.x", "$.partialOffsetsCents.3", "$.colour", "$.usualClef",
        ];
        Assert.All(paths, p => Assert.Contains(outcome.Problems, q => q.Where == "horn.json: " + p));
    }

    [Fact]
    public void One_mistake_is_one_problem()
    {
        var outcome = Read("""{"schema":"seamwright.instrument/1","id":"x","pedal":"H1","measuredTravel":{"semitones":3,"cm":28}}""");
        Assert.Equal("horn.json: $.pedal", Assert.Single(outcome.Problems).Where);
    }

    [Theory]
    [InlineData("", "line 1")]
    [InlineData("{\n\"id\": }", "line 2")]
    [InlineData("[1]", "$")]
    [InlineData("7", "$")]
    public void What_is_not_an_instrument_is_refused_with_a_place(string json, string where)
    {
        var outcome = Read(json);
        Assert.False(outcome.Succeeded);
        Assert.Contains(outcome.Problems, p => p.Where.Contains(where));
    }

    [Fact]
    public void No_damaged_file_escapes_as_an_exception()
    {
        var docs = File.ReadAllText(Path.Combine(Repository.Root, "docs", "instrument-file.md"));
        var from = docs.IndexOf("```json", StringComparison.Ordinal) + 7;
        var good = Encoding.UTF8.GetBytes(docs[from..docs.IndexOf("```", from, StringComparison.Ordinal)]);
        var random = new Random(3);
        for (var round = 0; round < 3000; round++)
        {
            var bad = (byte[])good.Clone();
            for (var k = random.Next(1, 4); k > 0; k--) bad[random.Next(bad.Length)] = (byte)"0\"{}[],:-9eBn \\u"[random.Next(16)];
            var outcome = InstrumentFile.Read(new MemoryStream(bad, 0, random.Next(2) == 0 ? bad.Length : random.Next(bad.Length)), "horn.json");
            Assert.Equal(outcome.Succeeded, !outcome.Problems.Any(p => p.Severity == Severity.Error));
        }
    }
}

/// <summary>What is written is read again as the same instrument.</summary>
public class InstrumentWritingTests
{
    public static TheoryData<string> Ids => [.. Catalogue.Ids];

    [Theory]
    [MemberData(nameof(Ids))]
    public void Every_instrument_of_the_catalogue_comes_back_as_it_was(string id)
    {
        foreach (var horn in (Instrument[])[Catalogue.Find(id)!, Changed(id)])
        {
            var back = Back(horn);
            Assert.Equal((horn.Id, horn.Name, horn.Pedal, horn.Air, horn.HighestPartial, horn.UsualClef), (back.Id, back.Name, back.Pedal, back.Air, back.HighestPartial, back.UsualClef));
            Assert.Equal(horn.A4.Value, back.A4.Value, 2);
            Assert.Equal(horn.FurthestTravel.Value, back.FurthestTravel.Value, 2);
            Assert.Equal(horn.PartialOffsets.OrderBy(p => p.Key), back.PartialOffsets.OrderBy(p => p.Key));
            Assert.Equal(horn.Sides.Select(s => (s.Id, s.Label, string.Join(' ', s.Valves))), back.Sides.Select(s => (s.Id, s.Label, string.Join(' ', s.Valves))));
            Assert.All(horn.Sides.Zip(back.Sides), s => Assert.InRange(s.Second.Fundamental.Above(s.First.Fundamental).Value, -0.2, 0.2));
            Assert.All(horn.Sides.Zip(back.Sides), s => Assert.Equal(s.First.EffectiveLength.Value, s.Second.EffectiveLength.Value, 0.05));
        }
    }

    private static Instrument Changed(string id)
    {
        var horn = Catalogue.Find(id, new Air { TemperatureC = 25, Humidity = 0.4 }, new(443.21))!;
        return horn with
        {
            PartialOffsets = horn.PartialOffsets.Add(2, new(-12.3)).Add(5, new(7)),
            Sides = [.. horn.Sides.Select(s => s with { EffectiveLength = new(s.EffectiveLength.Value * 1.02) })],
        };
    }

    private static Instrument Back(Instrument horn)
    {
        using var stream = new MemoryStream();
        InstrumentFile.Write(horn, stream);
        stream.Position = 0;
        var read = InstrumentFile.Read(stream, "horn.json");
        Assert.True(read.Succeeded, string.Join(" ", read.Problems));
        return read.Value;
    }
}
