using System.Xml.Linq;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;
using static Seamwright.Tests.Scores.Files;

namespace Seamwright.Tests.Scores;

public class MelodyTests
{
    public static TheoryData<string> Names { get; } = [.. Directory.EnumerateFiles(Melodies, "*.musicxml").Select(f => Path.GetFileNameWithoutExtension(f)!).Order(StringComparer.Ordinal)];

    private static readonly Lazy<List<(string Name, Part Part, Line Line)>> All = new(() => [.. Names.Select(n => (n.Data, Tune(n.Data), Unfolder.Play(Tune(n.Data), n.Data).Value))]);

    [Fact]
    public void There_are_twelve() => Assert.Equal(12, Names.Count);

    [Theory]
    [MemberData(nameof(Names))]
    public void A_melody_reads_and_plays_without_a_word(string name)
    {
        var outcome = Read(File.ReadAllBytes(PathOf(name)));

        Assert.Empty(outcome.Problems);
        Assert.Empty(Unfolder.Play(outcome.Value.Parts.Single(), name).Problems);
        Assert.InRange(outcome.Value.Parts[0].Bars.Length, 8, 24);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void A_melody_is_valid_MusicXML_4_as_it_stands_and_as_we_write_it(string name)
    {
        var schema = OpenSchema.OrSkip();

        Assert.Empty(schema.Errors(File.ReadAllBytes(PathOf(name))));
        Assert.Empty(schema.Errors(Written(Read(File.ReadAllBytes(PathOf(name))).Value)));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void A_melody_comes_back_from_writing_unchanged(string name)
    {
        var score = Read(File.ReadAllBytes(PathOf(name))).Value;

        Assert.Equal(Dump.Of(score), Dump.Of(Read(Written(score)).Value));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void A_melody_can_be_played_on_the_instrument_its_name_says(string name)
    {
        var instrument = Catalogue.Find(name.EndsWith("-for-bass", StringComparison.Ordinal) ? "bass-independent" : "tenor-f")!;

        Assert.All(Tune(name).Notes, n => Assert.NotEmpty(instrument.SettingsFor(n.Pitch)));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void A_melody_says_that_it_is_invented(string name) =>
        Assert.StartsWith("Invented for Seamwright", XDocument.Load(PathOf(name)).Descendants("miscellaneous-field").Single().Value);

    [Fact]
    public void Together_they_cover_what_the_trade_writes()
    {
        var bars = All.Value.SelectMany(m => m.Part.Bars).ToList();
        var notes = All.Value.SelectMany(m => m.Part.Notes).ToList();

        Assert.Superset(new HashSet<Clef> { Clef.Bass, Clef.Tenor, Clef.Alto, Clef.TrebleBb }, bars.SelectMany(b => b.Clefs).Select(c => c.Clef).ToHashSet());
        Assert.Superset(Enumerable.Range(-5, 10).ToHashSet(), bars.Select(b => b.Key.Fifths).ToHashSet());
        Assert.Superset(new HashSet<string> { "2/4", "3/4", "4/4", "6/8", "5/4", "2/2" }, bars.Select(b => $"{b.Meter.Beats}/{b.Meter.BeatUnit}").ToHashSet());
        Assert.Contains(bars, b => b.Meter.Symbol == MeterSymbol.Cut);
        Assert.Contains(bars, b => b.IsPickup);
        Assert.Contains(bars, b => b.Road.Endings.Contains(2));
        Assert.Contains(bars, b => b.Road.Jump == Jump.DalSegno);
        Assert.Contains(bars, b => b.Road.Coda);
        Assert.Contains(bars, b => b.Directions.Any(d => d.Kind == DirectionKind.Crescendo));
        Assert.Contains(All.Value, m => m.Line.Tempo.Marks.Length > 1);
        Assert.Contains(All.Value, m => m.Line.Tempo.Holds.Length > 0);
        Assert.Contains(notes, n => n.TieToNext);
        Assert.Contains(notes, n => n.Value.InTuplet);
        Assert.Contains(notes, n => n.Value.Dots > 0);
        Assert.Contains(notes, n => n.BreathAfter);
        Assert.Contains(notes, n => n.Grace == Grace.Slashed);
        Assert.Contains(notes, n => n.Grace == Grace.Plain);
        Assert.True(notes.Min(n => n.Pitch) < Pitch.Parse("E2") && notes.Max(n => n.Pitch) >= Pitch.Parse("A4"));
    }

    [Fact]
    public void The_demo_tune_is_played_twice_through_with_its_two_endings()
    {
        var line = All.Value.Single(m => m.Name == "evening-ferry").Line;

        Assert.Equal("1 2 3 4 5 6 7 8 1 2 3 4 5 6 7 9 10 11 12 13 14 15 16", string.Join(' ', line.Bars.Select(b => b.Number)));
        Assert.Equal(84, line.Tempo.Marks[0].QuartersPerMinute);
        Assert.InRange(line.Notes[^1].EndTime.Value, 60, 72);
    }

    [Fact]
    public void The_lantern_walk_goes_back_to_the_segno_and_on_to_the_coda()
    {
        var bars = All.Value.Single(m => m.Name == "lantern-walk").Line.Bars.Select(b => int.Parse(b.Number));

        Assert.Equal([.. Enumerable.Range(1, 18), .. Enumerable.Range(5, 8), .. Enumerable.Range(19, 4)], bars);
    }

    private static string PathOf(string name) => Path.Combine(Melodies, name + ".musicxml");

    private static Part Tune(string name) => Read(File.ReadAllBytes(PathOf(name))).Value.Parts.Single();
}
